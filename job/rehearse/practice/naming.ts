/** Names that continue those of a sheet. */

interface Numbered {
  readonly before: string
  readonly number: number
  readonly digits: number
  readonly after: string
}

/** The last run of digits of a name; undefined where it has none. */
function numbered(name: string): Numbered | undefined {
  const [, before, digits, after] = /^(.*?)(\d{1,9})(\D*)$/.exec(name) ?? []
  if (before === undefined || digits === undefined || after === undefined) return undefined
  return { before, number: Number(digits), digits: digits.length, after }
}

const written = ({ before, digits, after }: Numbered, number: number): string =>
  `${before}${String(number).padStart(digits, '0')}${after}`

/** `count` names after the last of these: P11, P12 after P10. Names without a number get one behind: after A. */
export function namesAfter(names: readonly string[], count: number): readonly string[] {
  const last = names.at(-1) ?? ''
  const like = numbered(last) ?? { before: `${last}-`, number: 1, digits: 1, after: '' }
  const kin = names.flatMap((name) => {
    const one = numbered(name)
    return one !== undefined && one.before === like.before && one.after === like.after ? [one.number] : []
  })
  const known = new Set(names)
  const made: string[] = []
  for (let number = 1 + Math.max(like.number, ...kin); made.length < count; number++) {
    const name = written(like, number)
    if (!known.has(name)) made.push(name)
  }
  return made
}

/** Where a file of another hole stands, and which hole it is of. */
export interface OtherFile {
  readonly file: string
  readonly hole: string
}

/**
 * A file name for a hole that looks like that of another one: with its name where the other has that of its own hole, else
 * with the next number; `known` are names that are taken.
 */
export function fileLike({ file, hole }: OtherFile, name: string, known: readonly string[]): string {
  const [, folder = '', base = '', end = ''] = /^(.*[\\/])?(.*?)(\.[^.\\/]*)?$/.exec(file) ?? []
  const at = base.lastIndexOf(hole)
  const named = at < 0 ? undefined : `${folder}${base.slice(0, at)}${name}${base.slice(at + hole.length)}${end}`
  const isTaken = (one: string): boolean => known.some((each) => each.toLowerCase() === one.toLowerCase())
  if (named !== undefined && !isTaken(named)) return named
  const bases = known.flatMap((one) =>
    one.startsWith(folder) && one.endsWith(end) ? [one.slice(folder.length, one.length - end.length)] : []
  )
  const others = [...bases.filter((one) => one !== base), base]
  return namesAfter(others, known.length + 1)
    .map((one) => `${folder}${one}${end}`)
    .find((one) => !isTaken(one))!
}
