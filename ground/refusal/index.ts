/**
 * The typed "no, because". A wrong world is a value of this kind; a wrong program is a throw.
 * Every refusal says what was found, what was needed and what to do, and names the place.
 */

/** Where in the outside world the trouble lies. `path` is a place inside a document, such as `holes[3].grip_mm`. */
export interface Where {
  readonly file?: string
  readonly line?: number
  readonly column?: number
  readonly byte?: number
  readonly sample?: number
  readonly path?: string
}

export interface Refusal<Code extends string = string> {
  readonly refused: true
  readonly code: Code
  readonly found: string
  readonly needed: string
  readonly remedy: string
  readonly where?: Where
}

export type Result<T, Code extends string = string> = T | Refusal<Code>

export interface Reason {
  readonly found: string
  readonly needed: string
  readonly remedy: string
  readonly where?: Where
}

export const isRefusal = (value: unknown): value is Refusal =>
  typeof value === 'object' && value !== null && (value as { refused?: unknown }).refused === true

/**
 * Makes the one way in which a room refuses: `const refuse = refuser(codes)`, then `refuse('scan/empty', {…})`.
 * A code outside the room's list does not compile. Another room's refusal may be the reason: the code is then this room's.
 */
export const refuser =
  <const Code extends string>(_codes: readonly Code[]) =>
  (code: Code, reason: Reason): Refusal<Code> =>
    Object.assign({ refused: true as const, code, ...reason }, { code })

/** The same refusal with its place filled in by the caller that knows it (a file name, a sheet line). */
export const located = <Code extends string>(refused: Refusal<Code>, where: Where): Refusal<Code> => ({
  ...refused,
  where: { ...where, ...refused.where }
})

/** One line for a terminal or a log. */
export function sentence(refused: Refusal): string {
  const place = refused.where === undefined ? '' : ` [${placeText(refused.where)}]`
  return `${refused.code}${place}: found ${refused.found}; needed ${refused.needed}; ${refused.remedy}`
}

export function placeText(where: Where): string {
  const position =
    where.line === undefined ? '' : `:${where.line}${where.column === undefined ? '' : `:${where.column}`}`
  const parts = [
    where.file === undefined ? (position === '' ? '' : `line ${position.slice(1)}`) : `${where.file}${position}`,
    where.path ?? '',
    where.byte === undefined ? '' : `byte ${where.byte}`,
    where.sample === undefined ? '' : `sample ${where.sample}`
  ]
  return parts.filter((part) => part !== '').join(', ')
}
