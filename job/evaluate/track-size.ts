import { exp, log, monotoneCurve, monotoneInverse, normalQuantile } from '@trueloop/ground/numerics'
import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { type ShimResponse, slotUnder } from '../standardize/index.ts'
import { refuse } from './codes.ts'
import { extentThrough } from './footprint.ts'
import { rounded, type SizeStatement } from './statement.ts'

/** What was measured of a flaw along a track. */
export interface TrackMeasured {
  /** peak above the null, in units of the named slot under `coating_mm` */
  readonly level: number
  readonly named: string
  /** −6 dB length as measured, mm; absent where an end was not seen */
  readonly length_mm?: number
  /** width of the field along the track, mm */
  readonly field_mm: number
  /** coating that the level counts from, mm */
  readonly coating_mm: number
  /**
   * absent where coating along the track and on parent metal agree, or it was given; else the thinnest that it may be: then
   * the depth is a lower bound, for under more coating a flaw that answers so is deeper
   */
  readonly thinnest_mm?: number
}

/** A study of how cracks along welds answer compared with slots of their depth, by its name. */
export interface TrackStudy {
  readonly name: string
  /** standard deviation of the logarithm of a crack's answer over that of a slot of its depth */
  readonly scatter: number
}

/**
 * Statement of size along a track: −6 dB length as measured and with the width of the field taken out, and depth by
 * comparison with slots under the same coating, interpolated between them in logarithms. Nothing is extrapolated: beyond
 * the deepest slot and below the smallest a bound. A flaw shorter than the field answers less than its depth: a lower bound.
 * An interval is stated only by a named study of how cracks scatter about slots of their depth.
 */
export function trackSize(
  measured: TrackMeasured,
  shims: readonly ShimResponse[],
  withheld: readonly string[],
  study?: TrackStudy
): SizeStatement {
  if (withheld.length > 0) return { depth: 'withheld', extent: 'withheld', withheld }
  const length = lengthOf(measured)
  const depth = depthOf(measured, shims, { length_mm: length.length_mm, study })
  return { withheld: [], ...depth.said, ...length, ...(depth.why.length > 0 ? { why: depth.why } : {}) }
}

type Length = Pick<SizeStatement, 'extent' | 'extent_mm' | 'length' | 'length_mm' | 'length_upper_mm' | 'footprint_mm'>

function lengthOf({ length_mm: raw, field_mm }: TrackMeasured): Length {
  if (raw === undefined) return { extent: 'not known: one end was not seen' }
  const extent_mm = Math.round(100 * raw) / 100
  const extent = `${extent_mm.toFixed(2)} mm between the −6 dB points, width of the field included`
  const seen = { extent, extent_mm, footprint_mm: rounded(field_mm) }
  if (raw <= LEAST_WIDER * field_mm) {
    const text = `≤ ${field_mm.toFixed(2)} mm: not told from a point by the field`
    return { ...seen, length: text, length_upper_mm: rounded(field_mm) }
  }
  const length_mm = withoutField(raw, field_mm)
  return { ...seen, length: `${length_mm.toFixed(2)} mm, width of the field taken out`, length_mm: rounded(length_mm) }
}

/** An extent up to this share wider than the field may be a point's: a width of the field is known no better. */
const LEAST_WIDER = 1.1

/** Length of the flaw whose −6 dB extent through the field is this. */
function withoutField(extent: number, field: number): number {
  let [low, high] = [0, extent]
  for (let k = 0; k < 50; k++) {
    const middle = 0.5 * (low + high)
    if (extentThrough(middle, field) < extent) low = middle
    else high = middle
  }
  return 0.5 * (low + high)
}

type Depth = Pick<SizeStatement, 'depth' | 'depth_mm' | 'lower_mm' | 'upper_mm' | 'basis' | 'level'>

interface Said {
  readonly said: Depth
  readonly why: readonly Refusal[]
}

const BASIS = 'comparison with slots'

interface Beside {
  readonly length_mm: number | undefined
  readonly study: TrackStudy | undefined
}

function depthOf(measured: TrackMeasured, shims: readonly ShimResponse[], { length_mm, study }: Beside): Said {
  const { coating_mm, thinnest_mm, field_mm, named } = measured
  const under = thinnest_mm ?? coating_mm
  const [then, now] = [slotUnder(shims, named, coating_mm), slotUnder(shims, named, under)]
  const slots = slotsUnder(shims, under)
  if (then === undefined || now === undefined || slots.length === 0)
    return { said: { depth: 'withheld' }, why: [outside(coating_mm)] }
  const read = between(measured.level * then, slots)
  const short = length_mm !== undefined && length_mm >= field_mm ? [] : [belowField(length_mm, field_mm)]
  const unsure = thinnest_mm === undefined ? [] : [coatingUnsure(thinnest_mm)]
  const why = [...short, ...unsure]
  if (why.length === 0)
    return { said: { ...read, basis: BASIS, ...byStudy(measured.level * then, slots, { read, study }) }, why: [] }
  const least = read.depth_mm ?? read.lower_mm
  if (least === undefined) return { said: { depth: 'not told: answers less than the smallest slot' }, why }
  return { said: { depth: `≥ ${least.toFixed(2)} mm`, lower_mm: least, basis: BASIS }, why }
}

interface Slot {
  readonly id: string
  readonly depth_mm: number
  readonly amplitude: number
  readonly scatter: number
}

/** Slots under a coating, in the order of their depth. */
function slotsUnder(shims: readonly ShimResponse[], coating_mm: number): readonly Slot[] {
  const nearest = shims.findLast(({ shim_mm }) => shim_mm <= coating_mm) ?? shims[0]
  return (nearest?.slots ?? [])
    .flatMap(({ id, depth_mm, scatter }) => {
      const amplitude = slotUnder(shims, id, coating_mm)
      return amplitude === undefined ? [] : [{ id, depth_mm, amplitude, scatter }]
    })
    .sort((a, b) => a.depth_mm - b.depth_mm)
}

/** Depth whose slot would answer so, or the bound by the slot at the end. */
function between(amplitude: number, slots: readonly Slot[]): Depth {
  const [smallest, deepest] = [slots[0]!, slots.at(-1)!]
  if (amplitude >= deepest.amplitude) {
    if (amplitude <= deepest.amplitude * (1 + 2 * deepest.scatter)) return value(deepest.depth_mm)
    return { depth: `≥ ${deepest.depth_mm.toFixed(2)} mm: as or above the deepest slot`, lower_mm: deepest.depth_mm }
  }
  if (amplitude < smallest.amplitude) {
    if (amplitude >= smallest.amplitude * (1 - 2 * smallest.scatter)) return value(smallest.depth_mm)
    const text = `≤ ${smallest.depth_mm.toFixed(2)} mm: below the smallest slot`
    return { depth: text, upper_mm: smallest.depth_mm }
  }
  const curve = monotoneCurve({
    x: slots.map(({ depth_mm }) => log(depth_mm)),
    y: slots.map((slot) => log(slot.amplitude))
  })
  if (isRefusal(curve)) return { depth: 'withheld: slots out of order' }
  const at = monotoneInverse(curve, log(amplitude))
  return isRefusal(at) ? { depth: 'withheld: slots out of order' } : value(exp(0.5 * (at.low + at.high)))
}

/** Share of cases that an interval may miss. */
const LEFT_OUT = 0.05

/** The depths whose slots would answer so at both ends of the study's scatter; an end beyond the slots is not stated. */
function byStudy(
  amplitude: number,
  slots: readonly Slot[],
  { read, study }: { readonly read: Depth; readonly study: TrackStudy | undefined }
): Partial<Depth> {
  if (study === undefined || read.depth_mm === undefined) return {}
  const reach = normalQuantile(1 - 0.5 * LEFT_OUT) * study.scatter
  const [low, high] = [between(amplitude * exp(-reach), slots), between(amplitude * exp(reach), slots)]
  return {
    basis: `${BASIS}, interval by ${study.name}`,
    level: 1 - LEFT_OUT,
    ...(low.depth_mm === undefined ? {} : { lower_mm: low.depth_mm }),
    ...(high.depth_mm === undefined ? {} : { upper_mm: high.depth_mm })
  }
}

const value = (depth_mm: number): Depth => ({
  depth: `${depth_mm.toFixed(2)} mm, as a slot that answers so under this coating`,
  depth_mm: rounded(depth_mm)
})

const belowField = (length_mm: number | undefined, field_mm: number) =>
  refuse('evaluate/below-footprint', {
    found: length_mm === undefined ? 'a flaw whose length is not told' : `a flaw of ${length_mm.toFixed(2)} mm`,
    needed: `one at least as long as the field of ${field_mm.toFixed(1)} mm, as the slots are`,
    remedy: 'the depth is a lower bound: a shorter flaw answers less than a slot of its depth'
  })

const coatingUnsure = (thinnest_mm: number) =>
  refuse('evaluate/coating-unsure', {
    found: 'an apparent coating along the track that parent metal beside it does not confirm',
    needed: 'both to agree: permeability answers in it too',
    remedy: `measure the coating on flat parent metal; the depth is a lower bound, under ${thinnest_mm.toFixed(2)} mm`
  })

const outside = (coating_mm: number) =>
  refuse('evaluate/coating-outside-slots', {
    found: `a coating of ${coating_mm.toFixed(2)} mm`,
    needed: 'one between the thinnest and the thickest shim over the slots',
    remedy: 'read the slots under shims that reach it'
  })
