import { type Dropped, type Turning, UNIT } from '../signal/index.ts'
import type { Contact } from './contact.ts'
import type { Examination } from './examination.ts'
import type { Located } from './hole-input.ts'
import type { HoleStream } from './hole-stream.ts'

/** What a pass says of itself besides its findings: position, coverage, losses at the ends, notes. */

interface Passed {
  readonly stream: HoleStream
  readonly turning: Turning
}

interface Where {
  readonly place: Located | undefined
  readonly contact: Contact | undefined
}

export function positionOf({ turning }: Passed, place: Located | undefined): Examination['position'] {
  if (place === undefined) return { axial: 'unknown', axialUncertainty_m: 'unknown', angle: 'relative angle' }
  const { basis, uncertainty_m, scale, passes, pitch_m } = place.along
  const angle = turning.fromSignal ? ('unknown' as const) : ('relative angle' as const)
  const known = { axial: basis, axialUncertainty_m: uncertainty_m, angle }
  if (scale === undefined) return known
  return { ...known, entry: passes[0]!.from / UNIT, exit: passes[0]!.to / UNIT, pitch_m }
}

export function coverageFacts({ stream, turning }: Passed, { place, contact }: Where): Examination['coverage'] {
  const inMetal = (place?.along.passes ?? []).reduce((sum, { from, to }) => sum + (to - from) / UNIT, 0)
  return {
    samples: turning.samples,
    revolutions: stream.revolutions,
    revolutionsInMetal: Math.round(inMetal * 100) / 100,
    contact: contact?.checks ?? [],
    speed: { ...turning.speed, unit: 'revolutions per second' }
  }
}

export function notesOf({ turning }: Passed): readonly string[] {
  const { filled, bounced, doubled, lost } = turning.marks
  const notes: string[] = []
  if (turning.fromSignal)
    notes.push(
      `no index pulse: turns were taken from the signal (likeness ${turning.likeness.toFixed(2)}); angles are relative to an unknown datum`
    )
  if (filled > 0) notes.push(`${filled} missing index marks filled in`)
  if (bounced > 0) notes.push(`${bounced} bouncing index edges left out`)
  if (doubled > 0) notes.push(`${doubled} double index marks left out`)
  if (lost > 0) notes.push(`${lost} turns without index marks: those stretches are not examined`)
  return notes
}

/** Half a revolution at each end serves the filter as neighborhood, and one more the screen: neither is examined. */
export function unscreened({ range, revolutions }: HoleStream): readonly Dropped[] {
  const reason = 'an end of the recording: neighborhood only'
  const stretch = (from: number, to: number): Dropped => ({ from, to, unit: 'revolution', samples: 0, reason })
  if (range === undefined) return [stretch(0, revolutions)]
  return [stretch(0, range.from / UNIT), stretch(range.to / UNIT, revolutions)]
}
