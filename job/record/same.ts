/**
 * Whether two plain values say the same. What is the same object is not looked into, so that values which share most of
 * their parts are compared fast; functions are the same only where they are one.
 */
export function isSame(a: unknown, b: unknown): boolean {
  if (a === b) return true
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false
  if (Array.isArray(a) !== Array.isArray(b)) return false
  const [one, other] = [a as Parts, b as Parts]
  const keys = Object.keys(one)
  if (keys.length !== Object.keys(other).length) return false
  return keys.every((key) => Object.hasOwn(other, key) && isSame(one[key], other[key]))
}

type Parts = Readonly<Record<string, unknown>>
