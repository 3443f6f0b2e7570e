import { exp, log, normalQuantile, studentQuantile } from '@trueloop/ground/numerics'
import type { Refusal } from '@trueloop/ground/refusal'
import type { NotchReading } from '../standardize/index.ts'
import { refuse } from './codes.ts'
import type { Sizing } from './parameters.ts'
import type { RowNoise } from './rows.ts'

/** The notches that speak for a place, by kind, and which of them may. */

export type KindName = 'corner' | 'mid-bore' | 'track'

export interface Kind {
  readonly name: KindName
  /** strong enough to bear a curve, by depth */
  readonly notches: readonly NotchReading[]
  readonly weak: readonly NotchReading[]
}

export interface Kinds {
  /** those that a flaw at the place may answer like: near a face both, as far as the standard has them; its own first */
  readonly own: readonly Kind[]
  /** those that the standard has */
  readonly all: readonly Kind[]
}

export interface Bearing {
  readonly noise: RowNoise | undefined
  readonly numbers: Sizing
  /** whether the flaw may touch a face, in whatever zone its middle lies */
  readonly near?: boolean
}

export function kindsFor(
  place: KindName,
  notches: readonly NotchReading[],
  { noise, numbers, near = false }: Bearing
): Kinds {
  const least = leastAmplitude(noise, numbers)
  const kind = (name: KindName) => kindOf(name, notches, least)
  if (place === 'track') return { own: [kind(place)], all: [kind(place)] }
  const all = [kind('corner'), kind('mid-bore')].filter(({ notches, weak }) => notches.length + weak.length > 0)
  const beside = place === 'corner' || near ? all.filter(({ name }) => name !== place) : []
  return { own: [kind(place), ...beside], all }
}

const leastAmplitude = (noise: RowNoise | undefined, { notchOverNoise }: Sizing): number =>
  noise === undefined ? 0 : notchOverNoise * Math.sqrt(noise.yy)

function kindOf(name: KindName, notches: readonly NotchReading[], least: number): Kind {
  const own = notches
    .filter(({ place }) => place.includes(name) || name === 'track')
    .sort((a, b) => a.depth_mm - b.depth_mm)
  return {
    name,
    notches: own.filter(({ amplitude }) => amplitude >= least),
    weak: own.filter(({ amplitude }) => amplitude < least)
  }
}

/**
 * Length over depth of notches: geometric mean, and the deviation of the logarithm for one more of them: that of the sample,
 * raised by what a mean and a deviation of so few are known to (as a prediction interval is wider by Student's t), no less
 * than is declared.
 */
export function proportionsOf(
  notches: readonly NotchReading[],
  { notchAspect, leftOut }: Pick<Sizing, 'notchAspect' | 'leftOut'>
): { readonly aspect: number; readonly aspectSpread: number } {
  const logs = notches.map(({ depth_mm, length_mm }) => log(length_mm / depth_mm))
  const n = logs.length
  const mean = logs.reduce((sum, one) => sum + one, 0) / n
  if (n < 2) return { aspect: exp(mean), aspectSpread: notchAspect }
  const spread = Math.sqrt(logs.reduce((sum, one) => sum + (one - mean) * (one - mean), 0) / (n - 1))
  const level = 1 - 0.5 * leftOut
  const raised = (Math.sqrt(1 + 1 / n) * studentQuantile(level, n - 1)) / normalQuantile(level)
  return { aspect: exp(mean), aspectSpread: Math.max(notchAspect, raised * spread) }
}

/** What keeps a kind from bearing a statement or a curve. */
export function kindAgainst({ name, notches, weak }: Kind, leastNotches: number): readonly Refusal[] {
  const few = notches.length < leastNotches ? [tooFew(name, notches.length, leastNotches)] : []
  return [...weak.map((notch) => belowNoise(notch)), ...few]
}

/** How far beyond their common noise two answers have to be out of order. */
const SURELY = 2

/** A deeper notch that answers weaker: no amplitude can be turned into a depth. */
export function notMonotone({ notches }: Kind, noise: RowNoise | undefined): Refusal | undefined {
  const least = noise === undefined ? 0 : SURELY * Math.sqrt(2 * noise.yy)
  for (const deep of notches) {
    const shallow = notches.find((one) => one.depth_mm < deep.depth_mm && one.amplitude > deep.amplitude + least)
    if (shallow !== undefined) return outOfOrder(shallow, deep)
  }
  return undefined
}

const outOfOrder = (shallow: NotchReading, deep: NotchReading): Refusal =>
  refuse('evaluate/curve-not-monotone', {
    found: `notch ${deep.id} answering ${deep.amplitude.toFixed(2)}, notch ${shallow.id} ${shallow.amplitude.toFixed(2)}`,
    needed: 'answers that grow with the depth of the notches of a kind',
    remedy: 'check the certificate and scan the reference standard again'
  })

export const noNotch = (place: KindName): Refusal =>
  refuse('evaluate/no-notch-of-kind', {
    found: `no ${place} notch in the reference standard`,
    needed: 'notches of the kind and place of the flaw',
    remedy: 'take a reference standard that has them'
  })

const tooFew = (name: KindName, count: number, needed: number): Refusal =>
  refuse('evaluate/too-few-notches', {
    found: `${count} ${name} notch${count === 1 ? '' : 'es'} that may bear a curve`,
    needed: `${needed} of the kind, or a response study that covers it`,
    remedy: 'bounds between notches are stated; take a reference standard with more notches of the kind'
  })

const belowNoise = ({ id, amplitude }: NotchReading): Refusal =>
  refuse('evaluate/notch-below-noise', {
    found: `notch ${id} answering ${amplitude.toFixed(3)}, too near to the noise of the reference scan`,
    needed: 'a notch well above the noise',
    remedy: 'it bears no curve; scan the reference standard again with less noise'
  })
