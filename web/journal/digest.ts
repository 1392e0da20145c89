/** The checksum by which a file is known, and its bytes as text. */

/** Return the SHA-256 of bytes as lower-case hexadecimal text. */
export async function sha256Of(bytes: ArrayBuffer): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** Return the SHA-256 of a text in UTF-8. */
export function sha256OfText(text: string): Promise<string> {
  return sha256Of(new TextEncoder().encode(text).buffer as ArrayBuffer);
}

export function toBase64(bytes: ArrayBuffer): string {
  const all = new Uint8Array(bytes);
  let text = "";
  // In pieces, because a call takes only so many arguments.
  for (let at = 0; at < all.length; at += 0x8000) {
    text += String.fromCharCode(...all.subarray(at, at + 0x8000));
  }
  return btoa(text);
}

/** Return the bytes of a base64 text, null if it is none. */
export function fromBase64(text: string): ArrayBuffer | null {
  if (text.length % 4 !== 0 || !/^[A-Za-z0-9+/]*={0,2}$/.test(text)) return null;
  const decoded = atob(text);
  const bytes = new Uint8Array(decoded.length);
  for (let at = 0; at < decoded.length; at++) bytes[at] = decoded.charCodeAt(at);
  return bytes.buffer;
}
