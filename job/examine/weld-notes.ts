import type { Part, Step } from '../interpret/index.ts'
import type { Stood } from '../signal/index.ts'
import type { CoatingMet } from './coating-profile.ts'
import type { TrackCoating } from './weld-coating.ts'
import type { WeldExamination } from './weld-input.ts'

interface Noted {
  readonly steps: readonly Step[]
  /** parts that are changes of the plate */
  readonly plate: readonly Part[]
  readonly stood: readonly Stood[]
  readonly input: WeldExamination
  readonly step_m: number
  readonly coating: TrackCoating
  readonly met: CoatingMet
}

/** What a reader has to know of a track beside its findings. */
export function trackNotes({ steps, plate, stood, input, step_m, coating, met }: Noted): readonly string[] {
  const place = (point: number) => (1e3 * Math.abs(point) * step_m).toFixed(1)
  const slow = steps.filter(({ isEnd }) => !isEnd)
  return [
    ...slow.map(
      ({ at, height }) =>
        `at ${place(at)} mm the plate changes slowly by ${height.toFixed(2)} of the alarm slot: taken off as a change of the material`
    ),
    ...plate.map(
      ({ half, level, sense }) =>
        `from ${place(Math.min(half.from, half.to))} to ${place(Math.max(half.from, half.to))} mm the plate changes slowly by ${(sense * level).toFixed(2)} of the alarm slot, and back: taken off as a change of the material`
    ),
    ...stood.map(
      ({ at, samples }) => `the position stood at ${place(at)} mm for ${(samples / input.rate_Hz).toFixed(1)} s`
    ),
    ...(coating.basis === 'given' ? ['the coating was given, not measured: there is no absolute channel'] : []),
    ...(coating.basis === 'measured'
      ? ['the coating along the track is apparent: permeability answers in the absolute channel too']
      : []),
    ...(met.aboveShims > 0
      ? [
          `${(100 * met.aboveShims).toFixed(1)} % of the track lies under more than ${coating.most_mm.toFixed(2)} mm, where no slot was read`
        ]
      : [])
  ]
}
