import { PI } from '@trueloop/ground/numerics'
import { type Measured, proposalOf, type SizedUnder, sizeOf, sizing } from '../evaluate/index.ts'
import { type Covariance, type Interpreted, type Sheet, valuesOf } from '../interpret/index.ts'
import { fineAround, UNIT } from '../signal/index.ts'
import { type FittedRows, longestChord } from '../standardize/index.ts'
import type { Indication } from './examination.ts'
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
  readonly number: number
}

/** The indication as it enters the Examination: measured, placed, classed, sized as far as the notches allow. */
export function indicationOf(one: Interpreted, context: Context): Indication {
  const { place, input } = context
  const { ridge, features } = one
  const loop = loopAt(one, context)
  const chord = longestChord(loop.x, loop.y, { from: 0, to: loop.x.length })
  const at = (point: number) => (place === undefined ? ('unknown' as const) : place.depth.at(point))
  const layer = place === undefined ? undefined : layerOf(context.zones, one.layer)
  const z0_m = cut(at(ridge.from), layer, Math.max)
  const z1_m = cut(at(ridge.to), layer, Math.min)
  const z_m = z0_m === 'unknown' || z1_m === 'unknown' ? ('unknown' as const) : 0.5 * (z0_m + z1_m)
  const zone = z_m === 'unknown' ? undefined : zoneAt(context.zones, z_m)
  const withheld = [
    ...context.withheld,
    ...(place === undefined ? ['no axial position'] : []),
    ...(zone === undefined ? [] : foreignMetal(zone, input))
  ]
  const measured = {
    amplitude: chord.length,
    place: zone?.place ?? ('mid-bore' as const),
    ...along(one, context, layer)
  }
  return {
    id: `${input.hole.id}/${context.number}`,
    zone: zone?.name ?? 'unknown',
    layer: zone === undefined ? 0 : zone.layer + 1,
    place: zone?.place ?? 'unknown',
    amplitude: chord.length,
    matched: features.matched,
    phase_rad: features.phase_rad,
    lobeOrder: features.lobeOrder,
    angle_rad: 2 * PI * (one.at / UNIT - Math.floor(one.at / UNIT)),
    z_m,
    z0_m,
    z1_m,
    ruler: one.at / UNIT,
    revolutions: features.rows,
    signalToNoise: one.statistic > 0 ? one.statistic : features.signalToNoise,
    crossedAlarm: one.crossedAlarm,
    class: one.class,
    cause: one.cause,
    evidence: one.evidence,
    measured,
    size: sizeOf(measured, input.standardization.notches, withheld, under(input)),
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

function cut(
  z_m: number | 'unknown',
  layer: Layer | undefined,
  by: (a: number, b: number) => number
): number | 'unknown' {
  if (z_m === 'unknown' || layer === undefined) return z_m
  return by(z_m, by === Math.max ? layer.z0_m : layer.z1_m)
}

/** Revolutions to each side of the strongest that are told to the sizing. */
const MOST_ROWS = 12

/** What was measured along the axis, where it has a scale. */
function along(
  { ridge, at }: Interpreted,
  { sheet, place, noise }: Context,
  layer: Layer | undefined
): Omit<Measured, 'amplitude' | 'place'> {
  if (place === undefined || layer === undefined) return {}
  const { depth } = place
  const [from, to] = [depth.at(ridge.from), depth.at(ridge.to)]
  const cutAt = cutBy(from, to, layer)
  const extent_m = Math.min(to, layer.z1_m) - Math.max(from, layer.z0_m)
  const faces = { from_mm: 1e3 * layer.z0_m, to_mm: 1e3 * layer.z1_m }
  return {
    extent_m,
    ...(cutAt === undefined ? {} : { cutAt }),
    rows: rowsAt(sheet, at, (p) => depth.at(p)),
    noise,
    faces
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
function foreignMetal({ layer }: Zone, { standardization, hole }: HoleExamination): readonly string[] {
  const foreign = foreignLayers(standardization, hole).includes(layer)
  return foreign ? [`no standardization for ${hole.layers?.[layer]}`] : []
}
