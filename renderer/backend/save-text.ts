/**
 * Hands something made in the window to the browser's own downloads. `isDataUrl`: `content` is a data address already (a picture); it is turned
 * into a file in memory first, because the desktop app refuses downloads from data addresses.
 */
export function saveText(fileName: string, content: string, isDataUrl = false): void {
  const link = document.createElement('a');
  const address = URL.createObjectURL(isDataUrl ? blobOf(content) : new Blob([content], { type: 'text/csv;charset=utf-8' }));
  link.href = address;
  link.download = fileName;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** `data:TYPE;base64,CONTENT`; not fetched, which the window's own policy forbids. */
function blobOf(dataUrl: string): Blob {
  const comma = dataUrl.indexOf(',');
  const bytes = Uint8Array.from(atob(dataUrl.slice(comma + 1)), (letter) => letter.charCodeAt(0));
  return new Blob([bytes], { type: /^data:([^;,]+)/.exec(dataUrl)?.[1] ?? '' });
}
