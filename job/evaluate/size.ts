import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import type { NotchReading } from '../standardize/index.ts'
import { type Bounds, between, type Differing, either } from './bounds.ts'
import { byAmplitude } from './by-amplitude.ts'
import { type FollowedFlaw, followedDepth } from './by-rows.ts'
import { ratioWithoutValue } from './crack.ts'
import { type Followed, follow } from './follow.ts'
import { type Joined, joined } from './hypotheses.ts'
import { type Kind, type Kinds, kindAgainst, kindsFor, noNotch, notMonotone } from './kinds.ts'
import { type Length, lengthOf } from './length.ts'
import type { Measured, SizedUnder } from './measured.ts'
import { declaredNumbers } from './numbers.ts'
import type { Sizing } from './parameters.ts'
import { lengthText, rounded, type SizeStatement } from './statement.ts'
import { studyFor } from './study.ts'

/**
 * Statement of size. Depth is notch-equivalent unless a response ratio holds; it is a value with an interval where each
 * kind that the flaw may be of (near a face both) has notches enough, else bounds between notches; nothing is
 * extrapolated. Lengths with the footprint taken out where flaw and notches were followed along the axis.
 *
 * @param notches readings of the reference standard
 * @param withheld reasons for which no size may be stated (set-up unknown, nothing standardized)
 */
export function sizeOf(
  measured: Measured,
  notches: readonly NotchReading[],
  withheld: readonly string[],
  under: SizedUnder = {}
): SizeStatement {
  if (withheld.length > 0) return { depth: 'withheld', extent: 'withheld', withheld }
  const extent = extentOf(measured)
  const numbers = under.numbers ?? declaredNumbers
  const plain = follow(measured, notches, under)
  const kinds = plain?.kinds ?? kindsFor(measured.place, notches, { noise: under.noise, numbers })
  const studied = studyFor(kinds, under, numbers)
  const followed = studied.study === undefined ? plain : follow(measured, notches, under, studied.study.scatter)
  const eitherKind = followed === undefined ? undefined : joined(followed.hypotheses)
  const length =
    eitherKind === undefined ? undefined : lengthOf(eitherKind.fits, { ...eitherKind, faces: measured.faces, numbers })
  const without = cannot(kinds.own, measured, under)
  const sized =
    without === undefined
      ? depthBy({ measured, kinds, under, numbers, followed, studied })
      : { depth: { depth: 'withheld', withheld: [without.found] }, why: [without] }
  const why = [...sized.why, ...(length?.why ?? [])]
  return {
    withheld: [],
    ...sized.depth,
    ...extent,
    ...lengthFields(length, eitherKind),
    ...(why.length > 0 ? { why } : {})
  }
}

/** Why nothing at all can be said of the depth. */
function cannot(kinds: readonly Kind[], { place }: Measured, { noise }: SizedUnder): Refusal | undefined {
  const own = kinds.find(({ name }) => name === place)
  if (own === undefined || own.notches.length + own.weak.length === 0) return noNotch(place)
  if (own.notches.length === 0) return kindAgainst(own, 0)[0]
  return kinds.map((kind) => notMonotone(kind, noise)).find((one) => one !== undefined)
}

interface Sizable {
  readonly measured: Measured
  readonly kinds: Kinds
  readonly under: SizedUnder
  readonly numbers: Sizing
  readonly followed: Followed | undefined
  readonly studied: ReturnType<typeof studyFor>
}

interface SizedDepth {
  readonly depth: Omit<SizeStatement, 'extent' | 'extent_mm' | 'withheld' | 'why'>
  readonly why: readonly Refusal[]
}

function depthBy({ measured, kinds: { own }, under, numbers, followed, studied }: Sizable): SizedDepth {
  const bounds = boundsOf(measured, own, { noise: under.noise, numbers })
  const weak = own.flatMap((kind) => kindAgainst(kind, 0))
  const lessons = followed?.lessons
  if (followed !== undefined && lessons !== undefined && !isRefusal(lessons)) {
    const flaw: FollowedFlaw = { hypotheses: followed.hypotheses, lessons, kinds: own, bounds }
    const sized = followedDepth(flaw, under, { numbers, study: studied.study })
    return { depth: sized.depth, why: [...weak, ...sized.why] }
  }
  const refused = [...weak, ...studied.why, ...(isRefusal(lessons) ? [lessons] : [])]
  const unused = (under.documents?.ratios ?? []).length > 0 ? [ratioWithoutValue()] : []
  const few = own.flatMap((kind) => kindAgainst({ ...kind, weak: [] }, numbers.leastNotches))
  if (few.length > 0 || isRefusal(lessons) || measured.place === 'track')
    return { depth: bounds, why: [...refused, ...few, ...unused] }
  const sized = byAmplitude(measured.amplitude, own, { bounds, numbers })
  return { depth: sized.depth, why: [...refused, ...sized.why, ...unused] }
}

function lengthFields(length: Length | undefined, seen: Joined | undefined): Partial<SizeStatement> {
  if (length === undefined || seen === undefined) return {}
  return {
    length: lengthText(length),
    ...(length.length_mm === undefined ? {} : { length_mm: rounded(length.length_mm) }),
    ...(length.lower_mm === undefined ? {} : { length_lower_mm: rounded(length.lower_mm) }),
    length_upper_mm: rounded(length.upper_mm),
    footprint_mm: rounded(seen.footprint.width_mm)
  }
}

function boundsOf({ amplitude }: Measured, kinds: readonly Kind[], differing: Differing): Bounds {
  const statements = kinds
    .filter(({ notches }) => notches.length > 0)
    .map(({ notches }) => between(amplitude, notches, differing))
  const [own, other] = statements
  return other === undefined ? own! : either(own!, other)
}

function extentOf({ extent_m, cutAt }: Measured) {
  if (extent_m === undefined) return { extent: 'not known: no scale along the axis' }
  const extent_mm = Math.round(extent_m * 1e5) / 100
  const cut = cutAt === undefined ? '' : `, stated up to the ${cutAt}`
  return { extent: `${extent_mm.toFixed(2)} mm between the −6 dB points, footprint included${cut}`, extent_mm }
}
