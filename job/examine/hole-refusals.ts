import type { Refusal } from '@trueloop/ground/refusal'
import type { Judgement } from '../interpret/index.ts'
import type { NotchReading } from '../standardize/index.ts'
import { refuse } from './codes.ts'
import { MOST_TRACED } from './mean-trace.ts'

/** Reasons for which a whole hole counts as not examined, in words. */

export const noContact = (edges: Refusal): Refusal =>
  refuse('examine/no-contact', {
    found: edges.found,
    needed: 'the probe seen to enter the metal and to leave it',
    remedy: 'check that the probe was in the hole, then scan from air through the whole hole into air'
  })

export const clipped = (samples: number): Refusal =>
  refuse('examine/clipped', {
    found: `${samples} samples at a limit of the recording`,
    needed: 'none: a clipped signal has no amplitude',
    remedy: 'lower the gain, standardize again and scan again'
  })

export const tooNoisy = ({ threshold, hole, level }: Judgement): Refusal =>
  refuse('examine/too-noisy', {
    found: `noise of ${hole.toFixed(3)} of the named notch, which asks for a threshold of ${(level * hole).toFixed(2)}`,
    needed: `a threshold that stays below the alarm level of ${threshold.toFixed(2)}`,
    remedy: 'clean the hole, check tape and cable, and scan again'
  })

export const tooMany = (): Refusal =>
  refuse('examine/too-many-candidates', {
    found: 'more places above the screen than can be kept',
    needed: 'a wall quiet enough to name its indications',
    remedy: 'clean the hole, check tape and cable, and scan again'
  })

export const tooLong = (): Refusal =>
  refuse('examine/too-long-for-depth', {
    found: `a recording of more than ${MOST_TRACED} revolutions`,
    needed: 'one pass through one hole',
    remedy: 'cut the recording to one pass, or scan the hole again'
  })

interface Wider {
  readonly wider_mm: number
  readonly doubt_mm: number
  /** largest loss; undefined where the technique says nothing of the coil */
  readonly worst_dB: number | undefined
}

const widerText = ({ wider_mm, doubt_mm, worst_dB }: Wider): string => {
  const loss = worst_dB === undefined ? 'a loss that is not known' : `a loss of up to ${worst_dB.toFixed(1)} dB`
  return `a hole ${wider_mm.toFixed(3)} mm wider than that of the standard, known to ${doubt_mm.toFixed(3)} mm: ${loss}`
}

const nearer = 'standardize with a probe and a reference standard of this diameter, and scan the hole again'

export const oversizeWithoutLimit = (wider: Wider): Refusal =>
  refuse('examine/oversize-without-limit', {
    found: widerText(wider),
    needed: 'what the technique says of such a hole: a largest loss, or a difference shown to be harmless',
    remedy: `let the procedure's author state technique.oversize; or ${nearer}`
  })

export const oversizeBeyondLoss = (wider: Wider, most_dB: number): Refusal =>
  refuse('examine/oversize-beyond-limit', {
    found: widerText(wider),
    needed: `a loss of at most ${most_dB} dB at worst, as the technique has it`,
    remedy: nearer
  })

export const oversizeBeyondHarmless = (wider: Wider, harmless_mm: number): Refusal =>
  refuse('examine/oversize-beyond-limit', {
    found: widerText(wider),
    needed: `at most ${harmless_mm} mm wider, its doubt included, as an oversize reference hole has shown`,
    remedy: nearer
  })

export const oversizeHidesFlaw = (zones: readonly string[], why: string): Refusal =>
  refuse('examine/oversize-hides-flaw', {
    found: `${zones.join(', ')}: ${why}`,
    needed: 'a flaw of the size sought that stands above what finds it',
    remedy: `${nearer}; what was found in these zones stands`
  })

export const pitchTooLarge = (pitch_m: number, most_m: number): readonly Refusal[] =>
  pitch_m <= most_m
    ? []
    : [
        refuse('examine/pitch-too-large', {
          found: `a pitch of ${(1e3 * pitch_m).toFixed(2)} mm`,
          needed: `at most ${(1e3 * most_m).toFixed(2)} mm, so that the flaw sought is passed often enough`,
          remedy: 'scan the hole again with a slower feed'
        })
      ]

export const noHandFeed = (): Refusal =>
  refuse('examine/no-axial-position', {
    found: 'a hand feed without what the technique says of its strokes',
    needed: 'the way of the strokes and the ratio of the fastest feed to its mean',
    remedy: 'write technique.hand_feed: { strokes, fastest_to_mean }'
  })

export const alongLiftOff = (notches: readonly NotchReading[]): Refusal =>
  refuse('examine/notch-along-lift-off', {
    found: `${notches.length === 1 ? 'notch' : 'notches'} ${notches.map(({ id }) => id).join(', ')} too near to lift-off to bear a size`,
    needed: 'notches whose angle from lift-off is told from it',
    remedy:
      'sizes are by the other notches; choose frequency and probe so that all leave lift-off, and standardize again'
  })
