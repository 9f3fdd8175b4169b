/** Hands something made in the window to the browser's own downloads. `isDataUrl`: `content` is a data address already (a picture). */
export function saveText(fileName: string, content: string, isDataUrl = false): void {
  const link = document.createElement('a');
  const address = isDataUrl ? content : URL.createObjectURL(new Blob([content], { type: 'text/csv;charset=utf-8' }));
  link.href = address;
  link.download = fileName;
  link.click();
  if (!isDataUrl) setTimeout(() => URL.revokeObjectURL(address), 10_000);
}
