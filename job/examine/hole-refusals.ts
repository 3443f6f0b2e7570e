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
