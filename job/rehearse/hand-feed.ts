import type { Random } from '@trueloop/ground/numerics'
import type { Feed } from './scene.ts'

/** A hand that feeds the probe: in, a rest, back a little and in again, to the end, a rest there, and out. */
export interface HandFeed {
  readonly grip_m: number
  /** advance a turn, on average */
  readonly pitch_m: number
  /** how far before the entry face it begins and ends, and how far beyond the exit face it goes */
  readonly before_m: number
  readonly beyond_m: number
  readonly dwell_turn: number
  readonly reversal_m: number
  /** fastest over slowest advance of a stroke */
  readonly unevenness: number
  /** a feed that never comes back out ends beyond the exit face */
  readonly out: boolean
}

type Profile = Extract<Feed, { kind: 'profile' }>
type Point = Profile['points'][number]

/** Turns between two changes of the advance. */
const KNOT_TURN = 1.5

/**
 * The feed of a hand as a profile. The advance of every stretch is the mean one times a factor between 1/√unevenness and
 * √unevenness. The rest and the reversal lie at a depth drawn from the middle half of the grip.
 * Throws RangeError for an advance that is not above zero or an unevenness below 1.
 */
export function handFeed(form: HandFeed, random: Random): Profile {
  if (!(form.pitch_m > 0 && form.unevenness >= 1)) throw new RangeError('a hand feed goes on, and is even at best')
  const points: Point[] = [{ turn: 0, z_m: -form.before_m }]
  const turnBack = form.grip_m * (0.25 + 0.5 * random.uniform())
  stroke(points, turnBack, { form, random })
  rest(points, form.dwell_turn)
  if (form.reversal_m > 0) stroke(points, turnBack - form.reversal_m, { form, random })
  stroke(points, form.grip_m + form.beyond_m, { form, random })
  rest(points, form.dwell_turn)
  if (form.out) stroke(points, -form.before_m, { form, random })
  return { kind: 'profile', points }
}

function rest(points: Point[], turns: number): void {
  const { turn, z_m } = points.at(-1)!
  if (turns > 0) points.push({ turn: turn + turns, z_m })
}

function stroke(points: Point[], to_m: number, by: { readonly form: HandFeed; readonly random: Random }): void {
  const spread = Math.sqrt(by.form.unevenness)
  const sense = to_m >= points.at(-1)!.z_m ? 1 : -1
  for (let left = 1; left > 0; ) {
    const { turn, z_m } = points.at(-1)!
    const share = by.random.uniform()
    const advance = by.form.pitch_m * (share * spread + (1 - share) / spread)
    left = sense * (to_m - z_m) - KNOT_TURN * advance
    if (left > 0) points.push({ turn: turn + KNOT_TURN, z_m: z_m + sense * KNOT_TURN * advance })
    else points.push({ turn: turn + (sense * (to_m - z_m)) / advance, z_m: to_m })
  }
}
