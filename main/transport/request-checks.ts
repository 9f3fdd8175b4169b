import type { IncomingMessage } from 'node:http';

/**
 * Only pages that this host served may talk to it. `Host` stops another site whose name was pointed at 127.0.0.1, `Origin` stops a page of
 * another site that simply connects here.
 */
export const ownNames = (port: number): readonly string[] => [`127.0.0.1:${port}`, `localhost:${port}`];

export const isOwnHost = (request: IncomingMessage, port: number): boolean => ownNames(port).includes(request.headers.host ?? '');

/** A browser always sends Origin with a WebSocket; whoever leaves it out is no window of ours. */
export const isOwnOrigin = (request: IncomingMessage, port: number): boolean =>
  ownNames(port).some((name) => request.headers.origin === `http://${name}`);
