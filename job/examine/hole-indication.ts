import { PI } from '@trueloop/ground/numerics'
import { type Measured, proposalOf, type SizedUnder, sizeBehindLoss, sizing } from '../evaluate/index.ts'
import { type Covariance, type Evidence, type Interpreted, type Sheet, valuesOf } from '../interpret/index.ts'
import { fineAround, UNIT } from '../signal/index.ts'
import { type FittedRows, longestChord } from '../standardize/index.ts'
import type { Indication } from './examination.ts'
import { bearingNotches, sizedBy } from './hole-bearing.ts'
import type { Entry } from './hole-entries.ts'
import { type Fit, lossInWords } from './hole-fit.ts'
import type { HoleExamination, Located } from './hole-input.ts'
import { foreignLayers } from './setup.ts'
import { type Zone, zoneAt } from './zones.ts'

export interface Context {
  readonly input: HoleExamination
  readonly sheet: Sheet
  readonly place: Located | undefined
  readonly zones: readonly Zone[]
  /** noise of the fitted size on one revolution */
  readonly noise: Covariance
  readonly withheld: readonly string[]
  readonly fit: Fit
  readonly number: number
}

/** The indication as it enters the Examination: measured, placed, classed, sized as far as the notches allow. */
export function indicationOf(entry: Entry, context: Context): Indication {
  const { place, input } = context
  const { one } = entry
  const { ridge, features } = one
  const loop = loopAt(one, context)
  const chord = longestChord(loop.x, loop.y, { from: 0, to: loop.x.length })
  const where = whereIs(entry, context)
  const withheld = [
    ...context.withheld,
    ...(place === undefined ? ['no axial position'] : []),
    ...foreignMetal(where.layers, input)
  ]
  const measured: Measured = {
    amplitude: chord.length,
    place: where.sizedAs,
    ...along(entry, context)
  }
  return {
    id: `${input.hole.id}/${context.number}`,
    zone: where.zone,
    layer: where.layers.length === 1 ? where.layers[0]! + 1 : 0,
    place: where.place,
    amplitude: chord.length,
    matched: features.matched,
    phase_rad: features.phase_rad,
    lobeOrder: features.lobeOrder,
    angle_rad: 2 * PI * (one.at / UNIT - Math.floor(one.at / UNIT)),
    ...depthsOf(entry),
    ruler: one.at / UNIT,
    revolutions: features.rows,
    signalToNoise: one.statistic > 0 ? one.statistic : features.signalToNoise,
    crossedAlarm: one.crossedAlarm,
    class: one.class,
    cause: one.cause,
    evidence: [...one.evidence, ...weaker(context.fit, one.crossedAlarm)],
    measured,
    size: sizeBehindLoss(measured, context.fit.share, (told) =>
      sizedBy(bearingNotches(input.standardization), told, { withheld, under: under(input) })
    ),
    proposal: proposalOf(one.class, withheld),
    snippet: {
      step: (2 * PI) / UNIT,
      stepUnit: 'rad',
      x: [...loop.x],
      y: [...loop.y],
      along: ridge.rows.map((row) => row.size),
      alongFrom: ridge.rows[0]!.at / UNIT
    }
  }
}

/** What an oversize hole makes of what was measured. */
function weaker(fit: Fit, crossedAlarm: boolean): readonly Evidence[] {
  const words = lossInWords(fit)
  if (words === undefined) return []
  const alarm = `the alarm level lowered to ${(fit.told?.alarm ?? 0).toFixed(3)} is ${crossedAlarm ? '' : 'not '}crossed`
  return [{ what: 'oversize', sentence: `Amplitudes are as measured, and ${words}; ${alarm}.`, speaks: 'neither' }]
}

/** Ends along the axis and their middle; of a band the ends within which it lies. */
function depthsOf({ depths }: Entry): Pick<Indication, 'z_m' | 'z0_m' | 'z1_m'> {
  if (depths === undefined) return { z_m: 'unknown', z0_m: 'unknown', z1_m: 'unknown' }
  const { least_m, most_m } = depths
  return { z_m: 0.5 * (least_m + most_m), z0_m: least_m, z1_m: most_m }
}

interface Where {
  readonly zone: string
  /** layers that it may lie in, from 0 */
  readonly layers: readonly number[]
  readonly place: Indication['place']
  readonly sizedAs: Measured['place']
}

/** By a scale the zone of its middle; by a band every zone that it may lie in: where there are several, none is named. */
function whereIs({ depths }: Entry, { zones, place }: Context): Where {
  if (depths === undefined) return { zone: 'unknown', layers: [], place: 'unknown', sizedAs: 'mid-bore' }
  const { least_m, most_m } = depths
  const middle = zoneAt(zones, 0.5 * (least_m + most_m))
  const within = zones.filter(({ z0_m, z1_m }) => z0_m < most_m && z1_m > least_m)
  const met = place?.along.scale !== undefined || within.length === 0 ? [middle] : within
  if (met.length === 1) {
    const { name, layer, place: kind } = met[0]!
    return { zone: name, layers: [layer], place: kind, sizedAs: kind }
  }
  const layers = [...new Set(met.map(({ layer }) => layer))]
  // at a corner the notches of both places speak
  return { zone: layers.map((layer) => `layer ${layer + 1}`).join(' or '), layers, place: 'unknown', sizedAs: 'corner' }
}

/** The standardized loop at every ruler point around its peak, `[2·half + 1]`. */
function loopAt(
  { at }: Interpreted,
  { sheet, input }: Context
): { readonly x: Float64Array; readonly y: Float64Array } {
  const element = Math.round((at - sheet.first) / sheet.step)
  const around = { half: input.standardization.form.half, step: sheet.step }
  return { x: fineAround(sheet.x, element, around), y: fineAround(sheet.y, element, around) }
}

interface Layer {
  readonly z0_m: number
  readonly z1_m: number
  readonly first: boolean
  readonly last: boolean
}

/** The layer with this number: one entry a layer, cut at its joints. */
function layerOf(zones: readonly Zone[], number: number): Layer {
  const own = zones.filter(({ layer }) => layer === number)
  const last = zones.at(-1)!.layer === number
  return { z0_m: own[0]!.z0_m, z1_m: own.at(-1)!.z1_m, first: number === 0, last }
}

/** Revolutions to each side of the strongest that are told to the sizing. */
const MOST_ROWS = 12

/** What was measured along the axis, where it has a scale. */
function along(
  { one, span, depths }: Entry,
  { sheet, place, zones, noise }: Context
): Omit<Measured, 'amplitude' | 'place'> {
  const depth = place?.along.scale
  if (depth === undefined || depths === undefined) return {}
  const layer = layerOf(zones, one.layer)
  const cutAt = cutBy(depth.at(span.from), depth.at(span.to), layer)
  return {
    extent_m: depths.most_m - depths.least_m,
    ...(cutAt === undefined ? {} : { cutAt }),
    rows: rowsAt(sheet, one.at, (p) => depth.at(p)),
    noise,
    faces: { from_mm: 1e3 * layer.z0_m, to_mm: 1e3 * layer.z1_m }
  }
}

function cutBy(from: number, to: number, { z0_m, z1_m, first, last }: Layer): string | undefined {
  const before = from < z0_m ? (first ? 'entry face' : 'joint before it') : undefined
  const after = to > z1_m ? (last ? 'exit face' : 'joint behind it') : undefined
  return before !== undefined && after !== undefined ? `${before} and ${after}` : (before ?? after)
}

/** Fitted sizes at the angle of the peak, revolution by revolution. */
function rowsAt(sheet: Sheet, at: number, depth: (point: number) => number): FittedRows {
  const rows = { z_m: [] as number[], x: [] as number[], y: [] as number[] }
  for (let k = -MOST_ROWS; k <= MOST_ROWS; k++) {
    const element = (at + k * UNIT - sheet.first) / sheet.step
    const i = Math.round(element)
    if (i < 1 || i > sheet.length - 2) continue
    rows.z_m.push(depth(at + k * UNIT))
    rows.x.push(through(sheet.cx, i, element - i))
    rows.y.push(through(sheet.cy, i, element - i))
  }
  return rows
}

/** The parabola through three elements, t elements from the middle one. */
const through = (column: Float64Array, i: number, t: number): number =>
  0.5 * t * (t - 1) * column[i - 1]! + (1 - t * t) * column[i]! + 0.5 * t * (t + 1) * column[i + 1]!

/** What a size may be told by besides the notches. */
function under({ standardization: { sizeNoise }, documents, moved }: HoleExamination): SizedUnder {
  return {
    ...(sizeNoise === undefined ? {} : { noise: sizeNoise }),
    ...(documents === undefined ? {} : { documents }),
    ...(moved?.sizing === undefined ? {} : { numbers: valuesOf(sizing, moved.sizing) })
  }
}

/** What holds for one metal says nothing of another. */
function foreignMetal(layers: readonly number[], { standardization, hole }: HoleExamination): readonly string[] {
  const foreign = foreignLayers(standardization, hole).filter((layer) => layers.includes(layer))
  return foreign.map((layer) => `no standardization for ${hole.layers?.[layer]}`)
}
