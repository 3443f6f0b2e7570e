import type { Indication } from '../../examine/index.ts'
import { type Block, cells, type Fact } from '../blocks.ts'
import { notStated, percent, sentenceCase } from '../print.ts'

/** What is said of a size: against the notches, as a crack where a ratio was applied, and its length; each with its bounds. */

type Size = Indication['size']

export const sizeFacts = (size: Size): readonly Fact[] =>
  size.withheld.length > 0
    ? [
        { label: 'Size', value: 'withheld', known: size.withheld.join('; ') },
        { label: 'Axial extent', value: size.extent }
      ]
    : [
        { label: 'Size', value: sentenceCase(size.depth), known: 'against the notches' },
        ...depthFacts(size),
        { label: 'Axial extent', value: size.extent, known: 'as measured' },
        ...lengthFacts(size)
      ]

interface Range {
  readonly value?: number | undefined
  readonly lower?: number | undefined
  readonly upper?: number | undefined
}

/** A depth with its interval, or its bounds where no more is known; a crack depth only by a ratio. */
function depthFacts(size: Size): readonly Fact[] {
  const { ratio, equivalent } = size
  if (ratio === undefined) return [equivalentFact(depthOf(size), size)]
  const { name, ratio: mean, spread, cracks, source, approved } = ratio
  const by = `response ratio "${name}", ${mean} ± ${spread} from ${cracks} cracks: ${source}; approved by ${approved}`
  return [
    equivalentFact(depthOf(equivalent ?? {}), size),
    { label: 'Crack depth', value: rangeText(depthOf(size), size.level !== undefined), known: `${level(size)}by ${by}` }
  ]
}

const depthOf = ({ depth_mm, lower_mm, upper_mm }: Pick<Size, 'depth_mm' | 'lower_mm' | 'upper_mm'>): Range => ({
  ...{ value: depth_mm, lower: lower_mm, upper: upper_mm }
})

function equivalentFact(range: Range, size: Size): Fact {
  const value = rangeText(range, size.level !== undefined)
  const label = 'Notch-equivalent depth'
  return value === notStated
    ? { label, value }
    : { label, value, known: `${level(size)}${size.basis ?? 'by the notches'}` }
}

const level = ({ level: share }: Size): string => (share === undefined ? '' : `interval of ${percent(share)}; `)

function lengthFacts({ length, footprint_mm }: Size): readonly Fact[] {
  if (length === undefined) return [{ label: 'Length', value: notStated }]
  const known = footprint_mm === undefined ? {} : { known: `coil footprint ${footprint_mm.toFixed(2)} mm` }
  return [{ label: 'Length', value: sentenceCase(length), ...known }]
}

const mm = (value: number): string => `${value.toFixed(2)} mm`

/** An end that is not stated lies beyond the notches: it is said so, not left out. */
function rangeText({ value, lower, upper }: Range, hasInterval: boolean): string {
  if (value !== undefined && !hasInterval) return `${mm(value)}, without an interval: no study gives one`
  if (value !== undefined) {
    const from = lower === undefined ? 'below the smallest notch' : mm(lower)
    return `${mm(value)}, from ${from} to ${upper === undefined ? 'beyond the deepest notch' : mm(upper)}`
  }
  if (lower !== undefined && upper !== undefined) return `${mm(lower)} to ${mm(upper)}`
  if (lower !== undefined) return `≥ ${mm(lower)}`
  return upper === undefined ? notStated : `≤ ${mm(upper)}`
}

/** What of the size is held back, with the reason of each. */
export const sizeWhy = ({ why = [] }: Size): readonly Block[] =>
  why.length === 0
    ? []
    : [
        {
          block: 'table',
          caption: 'Withheld of the size',
          columns: ['Found', 'Needed', 'What to do'].map((label) => ({ label })),
          rows: why.map(({ found, needed, remedy }) => cells(found, needed, remedy))
        }
      ]
