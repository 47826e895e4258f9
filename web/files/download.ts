/** Hands bytes to the browser as a file of its downloads. */
export function download(name: string, bytes: Uint8Array, type: string): void {
  const url = URL.createObjectURL(new Blob([bytes as Uint8Array<ArrayBuffer>], { type }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // the browser has taken the bytes over once the click is done
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
