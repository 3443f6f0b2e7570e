const letters = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/'

/** Bytes as base 64 with padding. source: rfc4648, 4 */
export function base64(bytes: Uint8Array): string {
  const parts: string[] = []
  for (let at = 0; at < bytes.length; at += 3) {
    const [first = 0, second = 0, third = 0] = bytes.subarray(at, at + 3)
    const group = first * 65536 + second * 256 + third
    const four = [group >> 18, (group >> 12) & 63, (group >> 6) & 63, group & 63].map((six) => letters[six]).join('')
    const missing = Math.max(0, at + 3 - bytes.length)
    parts.push(missing === 0 ? four : four.slice(0, 4 - missing) + '='.repeat(missing))
  }
  return parts.join('')
}
