/** The checksum by which a file is known, and its bytes as text. */

/** Return the SHA-256 of bytes as lower-case hexadecimal text. */
export async function sha256Of(bytes: ArrayBuffer): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
