"""Files that are no sheet, folders, and writing back."""

import os
import shutil

import pytest

from coldwright.errors import SheetError, SheetInvalid
from coldwright.sheet import file
from coldwright.sheet.file import SIZE_LIMIT, read, read_text, sheet_file, with_changes, write_back


class TestWhereTheSheetIs:
    def test_a_file_a_folder_and_a_link_are_one_sheet(self, tmp_path, kiosk_text):
        sheet = tmp_path / "sheet.toml"
        sheet.write_text(kiosk_text, encoding="utf-8")
        (tmp_path / "other.toml").write_text("x = 1")
        (tmp_path / "link.toml").symlink_to(sheet)
        titles = {read(way).title for way in (sheet, tmp_path, tmp_path / "link.toml", str(sheet))}
        assert titles == {"Ticket kiosk, single duct"}

    def test_a_folder_with_one_file_needs_no_special_name(self, tmp_path, kiosk_text):
        (tmp_path / "kiosk.toml").write_text(kiosk_text, encoding="utf-8")
        (tmp_path / ".hidden.toml").write_text("x = 1")
        assert sheet_file(tmp_path).name == "kiosk.toml"

    def test_a_folder_without_a_sheet(self, tmp_path):
        with pytest.raises(SheetError, match=r"no design sheet \(sheet.toml\)"):
            read(tmp_path)

    def test_a_folder_with_several_sheets_asks_which(self, tmp_path):
        for name in ("a.toml", "b.toml"):
            (tmp_path / name).write_text("x = 1")
        with pytest.raises(SheetError, match=r"a\.toml, b\.toml"):
            read(tmp_path)

    def test_a_missing_file(self, tmp_path):
        with pytest.raises(SheetError, match="no such file") as caught:
            read(tmp_path / "absent.toml")
        assert caught.value.path.endswith("absent.toml")

    @pytest.mark.parametrize("name", ["\x00", "a\x00b", "x" * 5000])
    def test_an_impossible_name(self, name):
        with pytest.raises(SheetError):
            read(name)

    def test_a_link_to_nothing_and_a_link_to_itself(self, tmp_path):
        (tmp_path / "gone").symlink_to(tmp_path / "absent")
        (tmp_path / "loop").symlink_to(tmp_path / "loop")
        for name in ("gone", "loop"):
            with pytest.raises(SheetError):
                read(tmp_path / name)


class TestWhatIsNoSheet:
    def test_a_huge_file_is_refused_without_reading_it(self, tmp_path, monkeypatch):
        path = tmp_path / "huge.toml"
        with path.open("wb") as new:
            new.truncate(2_000_000_000)  # holds no blocks on disk
        monkeypatch.setattr(file, "decoded", lambda *_: pytest.fail("it was read"))
        with pytest.raises(SheetError, match=r"2000\.0 MB"):
            read(path)

    def test_the_size_limit_itself(self, tmp_path, simplest_text):
        path = tmp_path / "sheet.toml"
        room = SIZE_LIMIT - len(simplest_text.encode())
        row = "#" + "x" * 98 + "\n"
        filled = row * (room // 100) + "#" * (room % 100 - 1) + "\n"
        path.write_bytes(filled.encode() + simplest_text.encode())
        assert path.stat().st_size == SIZE_LIMIT
        assert read(path).place.kind == "open_air"
        path.write_bytes(path.read_bytes() + b"\n")
        with pytest.raises(SheetError, match="MB"):
            read(path)

    @pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes with names here")
    def test_a_pipe_without_a_writer_does_not_hold_the_program_up(self, tmp_path):
        os.mkfifo(tmp_path / "pipe")
        with pytest.raises(SheetError, match="no ordinary file"):
            read(tmp_path / "pipe")

    @pytest.mark.skipif(not os.path.exists("/dev/zero"), reason="no such device here")
    def test_a_device(self):
        with pytest.raises(SheetError, match="no ordinary file"):
            read("/dev/zero")

    @pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be", "utf-32"])
    def test_other_encodings_are_named(self, tmp_path, kiosk_text, encoding):
        path = tmp_path / "sheet.toml"
        path.write_bytes(kiosk_text.encode(encoding))
        with pytest.raises(SheetError, match="UTF-16"):
            read(path)

    def test_latin_1_is_named_with_its_line(self, tmp_path, kiosk_text):
        path = tmp_path / "sheet.toml"
        path.write_bytes(kiosk_text.replace("27 degC", "27 °C").encode("latin-1"))
        with pytest.raises(SheetError, match="Latin-1") as caught:
            read(path)
        assert caught.value.line == 4

    def test_a_byte_order_mark_and_windows_line_ends_do_no_harm(self, tmp_path, kiosk_text):
        path = tmp_path / "sheet.toml"
        path.write_bytes(b"\xef\xbb\xbf" + kiosk_text.replace("\n", "\r\n").encode())
        sheet = read(path)
        assert sheet.line("goal.air") == 4

    @pytest.mark.parametrize("text", ["", "\n\n", "# only a comment\n", "   "])
    def test_an_empty_file_says_what_is_needed(self, text):
        with pytest.raises(SheetError, match=r"\[climate\], \[place\] and \[cooler\]"):
            read_text(text)

    @pytest.mark.parametrize(
        ("text", "line", "words"),
        [
            ("a = 1\nx = 40 mm", 2, '"40 mm"'),
            ("a = 1\n\nplace = place", 3, "quotes"),
            ("a: 4", 1, '"="'),
            ("[goal]\n[goal]", 2, "second time"),
            ("[goal]\nair = 1\nair = 2", 3, "second time"),
            ('a = "open', 1, ""),
            ("a = [1,\n\n", 3, ""),
        ],
    )
    def test_a_slip_in_the_toml_has_its_line_and_a_hint(self, text, line, words):
        with pytest.raises(SheetError) as caught:
            read_text(text, "sheet.toml")
        assert caught.value.line == line
        assert words in str(caught.value)
        assert str(caught.value).startswith(f"`sheet.toml` line {line}:")

    @pytest.mark.parametrize(
        "text",
        [
            "a = " + "[" * 5000 + "]" * 5000,
            "a = " + "{ b = " * 3000 + "1" + " }" * 3000,
            ".".join(["a"] * 200_000) + " = 1",
            "a = 0x" + "f" * 15_000,
            "a = " + "9" * 15_000,
            "a = 1e99999",
            "a = 1979-13-45",
            'a = "\\ud800"',
            "a = '\x00'",
            "\x00",
            "a = 1\r",
        ],
        ids=range(11),
    )
    def test_texts_made_to_break_a_parser(self, text):
        with pytest.raises(SheetError):
            read_text(text)


class TestWriteBack:
    @pytest.fixture
    def path(self, tmp_path, kiosk_text):
        path = tmp_path / "sheet.toml"
        path.write_text(kiosk_text, encoding="utf-8")
        return path

    def test_only_the_changed_rows_change(self, path, kiosk_text):
        changes = {
            "climate.outdoor_air": "33 degC",
            "cooler.run_at.voltage": "24 V",
            "place.surface[1].area": "5.8 m^2",
            "place.surface[0].layers[1].thickness": "50 mm",
            "cooler.cold_fan.curve[1][1]": "50 Pa",
            "cooler.modules.series": 3,
        }
        write_back(path, changes)
        before, after = kiosk_text.split("\n"), path.read_text(encoding="utf-8").split("\n")
        assert len(before) == len(after)
        changed = [(old, new) for old, new in zip(before, after, strict=True) if old != new]
        assert len(changed) == len(changes)
        for old, new in changed:
            assert old.partition("#")[2] == new.partition("#")[2]  # comments stay
        sheet = read(path)
        assert sheet.cooler.run_at.voltage.text == "24 V"
        assert sheet.place.surface[0].layers[1].thickness.text == "50 mm"

    def test_single_quotes_stay_single(self):
        text = "a = 'one' # why\nb = \"two\"\n"
        assert with_changes(text, {"a": "1", "b": "2"}) == "a = '1' # why\nb = \"2\"\n"

    def test_a_new_key_and_a_removed_one(self, path):
        write_back(path, {"goal.max_sound": None, "limits.cold_face": "2 degC"})
        sheet = read(path)
        assert sheet.goal.max_sound is None
        assert sheet.limits.cold_face.text == "2 degC"

    def test_windows_line_ends_and_the_byte_order_mark_stay(self, path, kiosk_text):
        raw = b"\xef\xbb\xbf" + kiosk_text.replace("\n", "\r\n").encode()
        path.write_bytes(raw)
        write_back(path, {"goal.air": "26 degC"})
        assert path.read_bytes() == raw.replace(b'air = "27 degC"', b'air = "26 degC"')

    def test_a_change_that_makes_it_invalid_leaves_the_file_alone(self, path):
        before = path.read_bytes()
        with pytest.raises(SheetInvalid):
            write_back(path, {"climate.outdoor_air": "35 kg"})
        assert path.read_bytes() == before

    @pytest.mark.parametrize("key", ["title.deeper", "place.surface[9].area", "goal.air[0]"])
    def test_a_path_that_leads_nowhere(self, path, key):
        before = path.read_bytes()
        with pytest.raises(SheetError):
            write_back(path, {key: "1 m^2"})
        assert path.read_bytes() == before

    def test_a_file_changed_meanwhile_is_never_overwritten(self, path, monkeypatch):
        other = path.read_text(encoding="utf-8").replace("27 degC", "20 degC")
        real = file.replace_file

        def somebody_saves_first(target, before, after):
            path.write_text(other, encoding="utf-8")
            real(target, before, after)

        monkeypatch.setattr(file, "replace_file", somebody_saves_first)
        with pytest.raises(SheetError, match="meanwhile"):
            write_back(path, {"goal.air": "26 degC"})
        assert path.read_text(encoding="utf-8") == other
        assert [found.name for found in path.parent.iterdir()] == ["sheet.toml"]

    def test_nothing_is_left_behind_and_the_mode_stays(self, path):
        path.chmod(0o640)
        write_back(path, {"goal.air": "26 degC"})
        assert [found.name for found in path.parent.iterdir()] == ["sheet.toml"]
        assert path.stat().st_mode & 0o777 == 0o640

    def test_through_a_link_the_file_itself_changes(self, path, tmp_path):
        link = tmp_path / "link.toml"
        link.symlink_to(path)
        write_back(link, {"goal.air": "26 degC"})
        assert link.is_symlink()
        assert "26 degC" in path.read_text(encoding="utf-8")

    def test_a_folder_that_cannot_be_written(self, path, monkeypatch):
        def refuse(*_, **__):
            raise PermissionError(13, "Permission denied")

        monkeypatch.setattr(file.tempfile, "mkstemp", refuse)
        with pytest.raises(SheetError, match="cannot be written"):
            write_back(path, {"goal.air": "26 degC"})
        assert shutil.os.path.exists(path)
