/** @param {BufferSource} bytes @returns {Promise<string>} the first half of its SHA-256, as hexadecimal. */
export async function digestOf(bytes) {
  const digest = await crypto.subtle.digest("SHA-256", bytes);
  return [...new Uint8Array(digest, 0, 16)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
