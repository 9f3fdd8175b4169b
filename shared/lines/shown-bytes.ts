/** `READ?<CR><LF>` as bytes and back. */
export const commandBytes = (shown: string): string =>
  shown.replace(/<(CR|LF|ETX|STX|ENQ|ESC|[0-9A-Fa-f]{2})>/g, (_, name: string) => {
    const code = { CR: 13, LF: 10, ETX: 3, STX: 2, ENQ: 5, ESC: 27 }[name] ?? Number.parseInt(name, 16);
    return String.fromCharCode(code);
  });
export const shownBytes = (bytes: string): string =>
  bytes.replace(/[^\x20-\x7e]/g, (sign) => {
    const code = sign.charCodeAt(0) & 255;
    return `<${{ 13: 'CR', 10: 'LF', 3: 'ETX', 2: 'STX', 5: 'ENQ', 27: 'ESC' }[code] ?? code.toString(16).toUpperCase().padStart(2, '0')}>`;
  });
