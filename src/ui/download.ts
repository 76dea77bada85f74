/** Hands a text to the user as a file; nothing leaves the machine. */
export function download(name: string, content: string | Uint8Array<ArrayBuffer>, mediaType: string): void {
  const address = URL.createObjectURL(new Blob([content], { type: mediaType }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  // The browser reads the address after this turn; freeing it at once would leave an empty file.
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** A trial's name as a file name that every system takes. */
export function fileName(trialName: string, ending: string): string {
  const plain = trialName
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '');
  return `${plain || 'trial'}${ending}`;
}
