import type { Refusal } from '@trueloop/ground/refusal'
import type { ZoneResult } from './examination.ts'
import type { HoleExamination, Located } from './hole-input.ts'
import { hiddenIn, type Margin } from './hole-margin.ts'
import type { HoleStream } from './hole-stream.ts'
import { foreignLayers } from './setup.ts'
import type { Zone } from './zones.ts'

export interface ZoneContext {
  readonly zones: readonly Zone[]
  readonly place: Located | undefined
  /** refusals that hold for the whole hole */
  readonly refused: readonly Refusal[]
  readonly stream: HoleStream
  readonly noise: number
  /** whether the flaw sought is found in this hole, as wide as it is */
  readonly margin: Margin
}

/** Every zone with its state: examined only where contact, coverage, set-up and metal all hold. */
export function zoneResults(input: HoleExamination, context: ZoneContext): readonly ZoneResult[] {
  const foreign = foreignLayers(input.standardization, input.hole)
  return context.zones.map((zone) => {
    const why = context.refused.map(({ found, needed }) => `${found} (needed: ${needed})`)
    if (foreign.includes(zone.layer))
      why.push(`no standardization for ${input.hole.layers?.[zone.layer] ?? 'its metal'}`)
    const covered = coverage(zone, input, context)
    const hidden = hiddenIn(zone, context.margin)
    const all = [...why, ...covered.why, ...(hidden === undefined ? [] : [hidden])]
    const state = all.length === 0 ? ('examined' as const) : ('not examined' as const)
    const ratio = context.noise > 0 ? { signalToNoise: 1 / context.noise } : {}
    return { zone: zone.name, z0_m: zone.z0_m, z1_m: zone.z1_m, state, covered: covered.covered, why: all, ...ratio }
  })
}

function coverage(zone: Zone, { technique }: HoleExamination, { place, stream }: ZoneContext) {
  if (place === undefined || stream.range === undefined)
    return { covered: 0, why: ['its place in the recording is not known'] }
  return place.along.coverageOf(zone, {
    unusable: stream.unusable,
    range: stream.range,
    maxPitch_m: technique.max_pitch_mm * 1e-3
  })
}
