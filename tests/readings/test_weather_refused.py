"""Weather files that cannot be read: a clear error, with the line where there is one."""

import pytest
from tests.readings.invented_town import epw, tmy3, year_of

from coldwright.errors import ColdwrightError, ReadingError
from coldwright.readings import weather_text
from coldwright.readings.weather import read_weather


def _with(text, line, old, new):
    lines = text.split("\n")
    assert old in lines[line - 1]
    lines[line - 1] = lines[line - 1].replace(old, new, 1)
    return "\n".join(lines)


@pytest.fixture(scope="module")
def text():
    return epw(year_of(days=20))


class TestRefused:
    @pytest.mark.parametrize(
        ("line", "old", "new", "said"),
        [
            (1, ",47.5,", ",north,", "“north” is not a latitude"),
            (1, ",9.5,", ",950,", "is not a longitude between -180 and 180"),
            (1, ",1.0,", ",nan,", "is not a time zone"),
            (1, ",invented", "", "ten entries"),
            (8, ",1,1,", ",1,4,", "4 values an hour"),
            (9, "2017,1,1,", "2017,13,1,", "Month 13, day 1 is no day"),
            (40, "2017,1,2,", "2017,2,30,", "Month 2, day 30 is no day"),
            (20, ",12,60,", ",25,60,", "Hour 25 is not 1 to 24"),
            (20, ",12,60,", ",0,60,", "Hour 0 is not 1 to 24"),
            (20, ",12,60,", ",noon,60,", "“noon” is not a whole number"),
            (30, ",96300,", ",high,", "“high” is not a number"),
        ],
    )
    def test_a_fault_is_named_with_its_line(self, read, text, line, old, new, said):
        with pytest.raises(ReadingError, match=said) as caught:
            read(_with(text, line, old, new))
        assert caught.value.line == line
        assert caught.value.path.endswith("town.epw")

    def test_rows_that_are_cut_off(self, read, text):
        lines = text.split("\n")
        lines[30] = lines[30][:40]
        with pytest.raises(ReadingError, match="entries; 35 make an hour") as caught:
            read("\n".join(lines))
        assert caught.value.line == 31

    @pytest.mark.parametrize(
        ("content", "said"),
        [
            (b"", "empty"),
            (b"\n\n\n", "empty"),
            (b"\n\nx", "known format"),
            (b"title = 'a sheet'\n", "known format"),
            (b"LOCATION,a,b\n", "ten entries"),
            (b"PK\x03\x04\x00\x00", "no text"),
            (b"\xff\xfeL\x00O\x00", "no text"),
        ],
    )
    def test_what_is_no_weather_file(self, read, content, said):
        with pytest.raises(ReadingError, match=said):
            read(content)

    def test_a_header_alone(self, read, text):
        header = text.split("\n")[:8]
        with pytest.raises(ReadingError, match="ends within its header"):
            read("\n".join(header))
        with pytest.raises(ReadingError, match="no hours"):
            read("\n".join([*tmy3([]).split("\n")[:2], ""]), "town.csv")

    def test_the_same_hour_many_times(self, read):
        hours = [one for one in year_of(days=20) for _ in range(4)]
        with pytest.raises(ReadingError, match="several times"):
            read(epw(hours))

    def test_more_hours_than_a_year_has(self, read, year):
        with pytest.raises(ReadingError, match="more hours than a year") as caught:
            read(epw([*year, *year]))
        assert caught.value.line == 8 + 8785

    def test_a_column_that_is_missing(self, read):
        text = tmy3(year_of(days=3)).replace("Dew-point (C)", "Dew")
        with pytest.raises(ReadingError, match="Dew-point") as caught:
            read(text)
        assert caught.value.line == 2

    @pytest.mark.parametrize("new", ["07.01.1998", "13/01/1998", "02/29/1998", "01/01/98"])
    def test_a_date_that_is_none(self, read, new):
        with pytest.raises(ReadingError) as caught:
            read(_with(tmy3(year_of(days=3)), 5, "01/01/1998", new))
        assert caught.value.line == 5

    def test_files_that_cannot_be_opened(self, tmp_path):
        for path in (tmp_path / "none.epw", tmp_path, "http://host.invalid/a.epw", "a\0b"):
            with pytest.raises(ReadingError):
                read_weather(path)

    def test_a_file_too_large_is_not_read(self, tmp_path, monkeypatch):
        path = tmp_path / "big.epw"
        path.write_bytes(b"LOCATION,\n" * 1000)
        monkeypatch.setattr(weather_text, "SIZE_LIMIT", 5000)
        with pytest.raises(ReadingError, match="larger than"):
            read_weather(path)

    def test_the_error_is_of_the_family(self):
        assert issubclass(ReadingError, ColdwrightError)
