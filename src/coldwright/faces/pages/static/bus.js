// The socket, and who listens to it.
export const listeners = { message: [] };
let socket = null;

export function useSocket(held) { socket = held; }

export function send(message) {
  if (!socket || socket.readyState !== WebSocket.OPEN) return false;
  socket.send(JSON.stringify(message));
  return true;
}
