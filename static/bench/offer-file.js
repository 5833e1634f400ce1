/** A file in a person's hands: through the phone's own share sheet, else as a download. */
import { el } from './parts/el.js';

/**
 * @param {string} name
 * @param {string} type
 * @param {string} text
 */
export async function offerFile(name, type, text) {
  const file = new File([text], name, { type });
  if (navigator.canShare?.({ files: [file] })) {
    try {
      await navigator.share({ files: [file] });
      return;
    } catch (error) {
      if (error instanceof DOMException && error.name === 'AbortError') return;
    }
  }
  const address = URL.createObjectURL(file);
  const link = el('a', { href: address, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
}
