/** From the words of a header to a name, a unit and the trade's meaning of the words. */
import { isUnit, unitText } from './units.ts'

export interface Title {
  /** as written, rows joined by a space */
  readonly name: string
  /** without the unit */
  readonly base: string
  readonly unit?: string
  /** lower-case words of the base; letters and digits are words apart */
  readonly words: readonly string[]
}

/** Where a unit may stand: `t (µs)`, `R [V]`, `x_V`, `time/s`, `Time s`. */
const UNIT_PLACES = [
  /^(.*?)[\s_]*[([]\s*([^()[\]]+?)\s*[)\]]$/,
  /^(.+?)\s*\/\s*(\S+)$/,
  /^(.+)_([^_]+)$/,
  /^(.+)\s(\S+)$/
]

/** The title of a column from its header cells, top row first. Later rows may be nothing but a unit. */
export function titleOf(cells: readonly string[]): Title {
  const parts = cells.map((cell) => cell.trim()).filter((cell) => cell !== '')
  const unitRow = parts.slice(1).find(isUnit)
  const words = parts.filter((part, row) => row === 0 || !isUnit(part))
  const split = words.map(splitUnit)
  const unit = unitRow ?? split.find((part) => part.unit !== undefined)?.unit
  const base = split.map((part) => part.base).join(' ')
  return { name: parts.join(' '), base, words: wordsOf(base), ...(unit === undefined ? {} : { unit: unitText(unit) }) }
}

function splitUnit(text: string): { base: string; unit?: string } {
  for (const place of UNIT_PLACES) {
    const found = place.exec(text)
    if (found?.[1] !== undefined && found[1] !== '' && found[2] !== undefined && isUnit(found[2]))
      return { base: found[1], unit: found[2] }
  }
  return { base: text }
}

export const wordsOf = (base: string): readonly string[] =>
  base
    .toLowerCase()
    .replace(/lift[\s_-]*off/g, 'liftoff')
    .replace(/in[\s_-]*phase/g, 'inphase')
    .match(/\p{L}+|\d+|#/gu) ?? []

export type PairPart = 'x' | 'y'
export interface Family {
  readonly name: string
  readonly x: readonly string[]
  readonly y: readonly string[]
}

/** The ways in which the two parts of a complex plane are named together. */
export const FAMILIES: readonly Family[] = [
  { name: 'x and y', x: ['x'], y: ['y'] },
  { name: 'horizontal and vertical', x: ['h', 'horiz', 'horizontal'], y: ['v', 'vert', 'vertical'] },
  { name: 'real and imaginary part', x: ['re', 'real'], y: ['im', 'imag', 'imaginary'] },
  { name: 'resistance and reactance', x: ['r', 'resistance'], y: ['x', 'reactance'] },
  { name: 'in phase and quadrature', x: ['i', 'inphase'], y: ['q', 'quad', 'quadrature'] }
]

export const TIME_WORDS = [
  't',
  'time',
  'times',
  'timestamp',
  'stamp',
  'elapsed',
  'clock',
  'date',
  'zeit',
  'temps',
  'tiempo'
]
export const POSITION_WORDS = ['z', 'pos', 'position', 'axial', 'distance', 'encoder', 'travel', 'track', 'weg']
export const INDEX_WORDS = ['index', 'idx', 'trig', 'trigger', 'mark', 'marker', 'pulse', 'sync', 'tacho']
export const ABSOLUTE_WORDS = ['a', 'abs', 'absolute', 'liftoff', 'coating']
export const ANGLE_WORDS = ['angle', 'theta', 'phi', 'rotation', 'winkel', 'phase']

/** Words that say nothing about the role. */
const NOISE = new Set([
  'channel',
  'chan',
  'ch',
  'signal',
  'part',
  'value',
  'component',
  'probe',
  'the',
  'of',
  'data',
  'raw'
])

/** True where every word that says something is one of these. */
export function speaksOf(words: readonly string[], list: readonly string[]): boolean {
  const telling = words.filter((word) => !NOISE.has(word) && !/^\d+$/.test(word))
  return telling.length > 0 && telling.every((word) => list.includes(word))
}

/** The words beside the one that names the part; two columns of a pair have the same. */
export const groupOf = (words: readonly string[], part: string): string => {
  const at = words.lastIndexOf(part)
  return words.filter((_, position) => position !== at).join(' ')
}

/** True where the rest of the name is nothing but a channel or probe number. */
export const isPlainGroup = (group: string): boolean =>
  group.split(' ').every((word) => word === '' || NOISE.has(word) || /^\d+$/.test(word))
