/**
 * What the window may load: its own built files and nothing else. No inline script, no eval, no frame of somebody else's.
 * The preview of a report is a page of our own with its own policy, hence `frame-src`.
 *
 * @param connect further addresses that may be talked to (the loopback WebSocket)
 */
export function contentPolicy(connect: readonly string[] = []): string {
  const rules: Record<string, readonly string[]> = {
    'default-src': ["'none'"],
    'script-src': ["'self'"],
    'style-src': ["'self'"],
    'img-src': ["'self'", 'data:', 'blob:'],
    'font-src': ["'self'"],
    'connect-src': ["'self'", ...connect],
    'frame-src': ["'self'", 'blob:'],
    'object-src': ["'none'"],
    'base-uri': ["'none'"],
    'form-action': ["'none'"],
    'frame-ancestors': ["'none'"],
  };
  return Object.entries(rules)
    .map(([name, values]) => `${name} ${values.join(' ')}`)
    .join('; ');
}

/** A report's page brings its style, pictures and fonts within itself and needs nothing else; only our own window may frame it. */
export const reportPolicy =
  "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'self'";

/** Sent with every answer of either host. */
export const safetyHeaders = (connect: readonly string[] = []): Record<string, string> => ({
  'Content-Security-Policy': contentPolicy(connect),
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Permissions-Policy': 'camera=(), microphone=(), geolocation=(), usb=(), serial=(), hid=()',
});
