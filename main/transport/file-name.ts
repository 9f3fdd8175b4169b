/** A file's name for showing, never for a path: control signs and folders are taken out. */
export function decodeName(encoded: string): string {
  let name = encoded;
  try {
    name = decodeURIComponent(encoded);
  } catch {
    // shown as it came
  }
  const last = name.split(/[\\/]/).at(-1) ?? '';
  return last.replace(/[\x00-\x1f\x7f]/g, '').slice(0, 200) || 'file';
}
