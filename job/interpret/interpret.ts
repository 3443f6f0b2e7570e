import { UNIT } from '../signal/index.ts'
import type { Candidate } from './candidates.ts'
import { type Covariance, largerOf } from './covariance.ts'
import { type Detecting, detect, type Judgement } from './detect.ts'
import type { Features } from './features.ts'
import { type FeatureContext, featuresOf, type Ridge } from './featuring/index.ts'
import { type Class, type Evidence, judge } from './judge.ts'
import { noiseOfHole } from './noise.ts'
import type { Moved } from './parameters.ts'
import type { Spot } from './spots.ts'

/** A place that stood at the end, with what it is taken for and why. */
export interface Interpreted {
  /** ruler point of its peak */
  readonly at: number
  readonly sign: 1 | -1
  /** deviations of the noise by which it stands out; 0 where only the alarm speaks */
  readonly statistic: number
  readonly crossedAlarm: boolean
  /** number of the layer that it lies in, from 0 */
  readonly layer: number
  /** ruler points of further maxima that are taken for the same */
  readonly alike: readonly number[]
  readonly features: Features
  readonly ridge: Ridge
  readonly class: Class
  readonly cause: string
  readonly evidence: readonly Evidence[]
}

export interface Interpretation {
  readonly judgement: Judgement
  /** noise of the size on one revolution */
  readonly single: Covariance
  readonly kept: readonly Interpreted[]
  readonly withdrawn: readonly { readonly id: string; readonly reason: string }[]
}

export interface InterpretInput extends Detecting {
  readonly candidates: readonly Candidate[]
  /** covariance of the size on one revolution on the clear wall of the reference */
  readonly single: Covariance
  /** the alarm as vertical peak-to-peak, standardized */
  readonly swing: number
  readonly context: Omit<FeatureContext, 'noise' | 'notchPhases'>
  readonly mayClass: readonly string[]
  readonly moved?: Moved | undefined
}

/** Judges one pass as a whole: what stands out of the noise or crosses the alarm is an indication, classed with reasons. */
export function interpret(input: InterpretInput): Interpretation {
  const { judgement, spots, single } = detect(input)
  const standing = [...spots, ...alarmsAlone(input, spots)]
  const noise = standing.length === 0 ? input.single : singleNoise(input, single)
  const context: FeatureContext = {
    moved: input.moved?.features,
    ...input.context,
    notchPhases: input.notchPhases,
    noise
  }
  const within = input.numbers.wander * input.spacing
  const all = onceEach(
    standing.map((spot) => interpreted(spot, input, context)),
    within
  )
  const kept = [...all].sort((a, b) => a.at - b.at)
  return { judgement, single: noise, kept, withdrawn: withdrawnOf(input, standing) }
}

/** Candidates to which nothing that stands belongs. There may be thousands. */
function withdrawnOf(input: InterpretInput, standing: readonly Spot[]): Interpretation['withdrawn'] {
  const withdrawn: { readonly id: string; readonly reason: string }[] = []
  for (const candidate of input.candidates) {
    if (!isStanding(candidate, standing, input)) withdrawn.push({ id: candidate.id, reason: BELOW })
  }
  return withdrawn
}

const BELOW = 'below the threshold that the noise asks for, or a side lobe'

function isStanding(candidate: Candidate, standing: readonly Spot[], input: InterpretInput): boolean {
  for (const spot of standing) if (belongs(spot, candidate, input)) return true
  return false
}

/** Noise of the size on one revolution: the larger of reference and pass, as for the joined ones. */
function singleNoise({ sheet, wall, single }: InterpretInput, heard: Covariance | undefined): Covariance {
  const own = heard ?? noiseOfHole({ x: sheet.cx, y: sheet.cy }, wall).covariance
  return largerOf(own, single)
}

/** A place that is measured on the ridge of a stronger one is that one. */
function onceEach(all: readonly Interpreted[], within: number): readonly Interpreted[] {
  const isOn = (one: Interpreted, { layer, ridge: { rows, first, last } }: Interpreted) =>
    layer === one.layer && rows.slice(first, last + 1).some(({ at }) => Math.abs(at - one.at) <= within)
  return all.filter((one, i) => !all.slice(0, i).some((stronger) => isOn(one, stronger)))
}

const rulerOf = ({ sheet }: Detecting, element: number): number => sheet.first + element * sheet.step

function belongs(spot: Spot, { from, to }: Candidate, input: InterpretInput): boolean {
  const beyond = (input.reach + 1) * UNIT
  return rulerOf(input, spot.to) >= from - beyond && rulerOf(input, spot.from) <= to + UNIT
}

function interpreted(spot: Spot, input: InterpretInput, context: FeatureContext): Interpreted {
  const at = rulerOf(input, spot.at)
  const { features, ridge } = featuresOf(input.sheet, { at, sign: spot.sign, statistic: spot.statistic }, context)
  const { class: of, cause, evidence } = judge(features, { mayClass: input.mayClass, moved: input.moved })
  return {
    at: ridge.rows[ridge.peak]!.at,
    sign: spot.sign,
    statistic: spot.statistic,
    crossedAlarm: crosses(spot.at, input),
    layer: input.layerOf(at),
    alike: spot.alike.map((element) => rulerOf(input, element)),
    features,
    ridge,
    class: of,
    cause,
    evidence
  }
}

/** Whether the vertical peak-to-peak around an element reaches the alarm. */
function crosses(element: number, { sheet, context, swing }: InterpretInput): boolean {
  const half = Math.ceil(context.half / sheet.step)
  let least = Number.POSITIVE_INFINITY
  let most = Number.NEGATIVE_INFINITY
  for (let i = Math.max(0, element - half); i <= Math.min(sheet.length - 1, element + half); i++) {
    least = Math.min(least, sheet.y[i]!)
    most = Math.max(most, sheet.y[i]!)
  }
  return most - least >= swing
}

/** Crossings of the alarm at which nothing else stands: every one is an indication. */
function alarmsAlone(input: InterpretInput, spots: readonly Spot[]): readonly Spot[] {
  return input.candidates
    .filter((candidate) => candidate.swing >= input.swing)
    .flatMap((candidate) => {
      const { sheet } = input
      const element = Math.round((candidate.swingAt - sheet.first) / sheet.step)
      if (element < 0 || element >= sheet.length || spots.some((spot) => isNear(spot, element, input))) return []
      const at = strongestNear(element, input)
      return [{ at, sign: candidate.sign, statistic: 0, alike: [], from: at, to: at }]
    })
}

/** Whether a crossing lies over the loop of a spot on one of the revolutions that it answers over. */
function isNear(spot: Spot, element: number, { sheet, context, reach }: InterpretInput): boolean {
  const rows = Math.round((element - spot.at) / sheet.perTurn)
  const beside = Math.abs(element - spot.at - rows * sheet.perTurn)
  const loop = Math.ceil((2 * context.half) / sheet.step)
  const beyond = (reach + 1) * sheet.perTurn
  return beside <= loop && element >= spot.from - beyond && element <= spot.to + beyond
}

function strongestNear(element: number, { sheet, context }: InterpretInput): number {
  const half = Math.ceil(context.half / sheet.step)
  let best = element
  let most = -1
  for (let i = Math.max(0, element - half); i <= Math.min(sheet.length - 1, element + half); i++) {
    const square = sheet.cx[i]! * sheet.cx[i]! + sheet.cy[i]! * sheet.cy[i]!
    if (square > most) {
      most = square
      best = i
    }
  }
  return best
}
