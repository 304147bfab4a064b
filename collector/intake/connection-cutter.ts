// Ends what is connected to a server, for when the process ends.

import type { Server, Socket } from 'node:net';

/**
 * Returns how to end every connection, also one that waits for its TLS handshake, which the server
 * itself does not list yet.
 */
export function connectionCutter(server: Server): () => void {
  const sockets = new Set<Socket>();
  server.on('connection', (socket: Socket) => {
    sockets.add(socket);
    socket.once('close', () => sockets.delete(socket));
  });
  return () => {
    for (const socket of sockets) socket.destroy();
  };
}
