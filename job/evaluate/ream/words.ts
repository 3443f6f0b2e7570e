import type { DepthBound } from './bound.ts'
import { rangeOf } from './diameters.ts'
import { marginText } from './margins.ts'
import type { SizeTried } from './sizes.ts'
import type { ReamFigure, ReamTerms } from './terms.ts'

type Wordless = Omit<ReamFigure, 'lines'>

/** The arithmetic of a figure, line by line: each term where it comes from, each size with what speaks for or against it. */
export const linesOf = (figure: Wordless): readonly string[] => [
  ...increaseLines(figure),
  ...diameterLines(figure.terms),
  ...cutLines(figure.terms),
  ...figure.sizes.map((size) => sizeLine(size)),
  ...proposalLines(figure)
]

function increaseLines({ terms }: Wordless): readonly string[] {
  const { bound, allowance_mm: a, eccentricity_mm: e, increase_mm } = terms
  if (bound === undefined) return [`further cut, as the procedure asks: at least ${increase_mm} mm on the diameter`]
  return [
    ...boundLines(bound),
    `allowance for the error of depth, entered: ${a} mm`,
    `eccentricity of the cut, entered: ${e} mm`,
    `increase of the diameter: 2 × (${bound.upper_mm} + ${a} + ${e}) = ${increase_mm} mm`
  ]
}

function boundLines(bound: DepthBound): readonly string[] {
  const { indication, says, upper_mm, level, ratio, notch_equivalent: equivalent } = bound
  const end = level === undefined ? 'upper bound' : `upper end of its ${Math.round(1000 * level) / 10} % interval`
  const by = ratio === undefined ? '' : `, a crack's depth by the response ratio "${ratio}"`
  const depth = `deepest indication ${indication}: ${says}; ${end} ${upper_mm} mm${by}`
  if (equivalent.length === 0) return [depth]
  return [
    depth,
    `notch-equivalent (${equivalent.join(', ')}): a crack mostly answers weaker than a notch of its size and may be deeper than this bound; the allowance has to cover it`
  ]
}

const diameterLines = ({ measured, increase_mm, required_mm }: ReamTerms): readonly string[] => [
  `measured: ${rangeOf(measured)}; the largest counts, a crack may lie along it`,
  `diameter needed: ${measured.largest_mm} + ${increase_mm} = ${required_mm} mm`
]

function cutLines({ cuts_so_far: cuts, most_cuts: most, removed_so_far: removed }: ReamTerms): readonly string[] {
  const limit = most === undefined ? 'no limit stated' : `at most ${most}`
  const taken = cuts === 0 ? '' : `; taken off the diameter so far ${removed.least_mm} to ${removed.most_mm} mm`
  return [`cuts so far: ${cuts}, ${limit}${taken}`]
}

function sizeLine({ diameter_mm, least_mm, greatest_mm, margins, against }: SizeTried): string {
  const range = least_mm === greatest_mm ? 'no tolerance stated' : `${least_mm} to ${greatest_mm} mm`
  const fits = `fits: ${margins.map(marginText).join('; ')}`
  return `permitted size ${diameter_mm} mm (${range}): ${against.length === 0 ? fits : against.join('; ')}`
}

function proposalLines({ next, then, reasons, terms, cut }: Wordless): readonly string[] {
  if (next === undefined) return [`proposed: refer to engineering, a person decides: ${reasons.join('; ')}`]
  const further =
    then === undefined
      ? []
      : [`further cut asked for after it: to ${then.diameter_mm} mm, by the diameter then measured`]
  return [
    `proposed: ${cut === 'clean-up' ? 'clean-up ream' : 'further cut'} to ${next.diameter_mm} mm, a person decides`,
    `then clean, measure, standardize within ${terms.diameter_class_mm} mm of the measured diameter, and examine again`,
    ...further
  ]
}
