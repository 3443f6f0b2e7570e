/**
 * Canonical JSON: one value, one text, so that a hash names a value. Members sorted by UTF-16 code units, numbers as
 * ECMAScript writes them, no white space. A member that is `undefined` is left out. A number that JSON can't write, and
 * anything that is no JSON value, is a wrong program and throws.
 * source: rfc8785, 3.2
 */
export function canonical(value: unknown): string {
  if (value === null || typeof value === 'boolean') return String(value)
  if (typeof value === 'string') return stringText(value)
  if (typeof value === 'number') return numberText(value)
  if (Array.isArray(value)) return `[${Array.from(value, canonical).join(',')}]`
  if (isPlain(value)) return `{${membersText(value)}}`
  throw new TypeError(`canonical JSON can not write a value of type ${typeof value}`)
}

const membersText = (value: Readonly<Record<string, unknown>>): string =>
  Object.keys(value)
    .filter((key) => value[key] !== undefined)
    .sort()
    .map((key) => `${stringText(key)}:${canonical(value[key])}`)
    .join(',')

/** Minus zero becomes 0, as ECMAScript writes it. */
function numberText(value: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`canonical JSON can not write ${value}`)
  return String(value)
}

function stringText(value: string): string {
  if (/\p{Surrogate}/u.test(value)) throw new RangeError('canonical JSON can not write half of a surrogate pair')
  return JSON.stringify(value)
}

/** A record made by braces or by JSON; a Map, a Date or a typed array would silently lose what it holds. */
function isPlain(value: unknown): value is Readonly<Record<string, unknown>> {
  if (typeof value !== 'object' || value === null) return false
  const prototype: unknown = Object.getPrototypeOf(value)
  return prototype === null || Object.getPrototypeOf(prototype) === null
}
