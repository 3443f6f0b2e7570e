import type { Random } from '@trueloop/ground/numerics'
import type { Hole, HoleSheet } from '../../plan/index.ts'
import { oneOf, shuffled } from '../draw/chance.ts'
import type { Flaw, HoleScene, PairProbe, Scratch } from '../scene.ts'
import { crackIn } from './flaws.ts'
import { type Staged, sceneOfHole, scratchIn } from './scenes.ts'

/** A practice hole as it is drawn: like which hole of the sheet, and what is in it. */
export interface Drawn {
  readonly like: Hole
  readonly flaw: Flaw | undefined
  readonly scratches: readonly Scratch[]
  readonly pattern: number
}

/** How often a crack is drawn anew that no layer has room for. */
const TRIES = 50
const SCRATCHED = 0.25

/** `count` holes, about half of them with a crack; of two or more one at least with and one without. Undefined: no room. */
export function drawnHoles(
  sheet: HoleSheet,
  count: number,
  { probe, random }: { readonly probe: PairProbe; readonly random: Random }
): readonly Drawn[] | undefined {
  const flawed = flawedOf(count, random.fork('which'))
  const drawn = flawed.map((isFlawed, k) => {
    const own = random.fork(`hole ${k}`)
    const found = isFlawed ? crackedHole(sheet, own.fork('crack')) : { like: oneOf(own.fork('like'), sheet.holes) }
    if (found === undefined) return undefined
    const scratches = own.uniform() < SCRATCHED ? [scratchIn(found.like, probe, own.fork('scratch'))] : ([] as const)
    return { flaw: undefined, ...found, scratches, pattern: 1000 * (k + 1) + own.below(1000) }
  })
  const whole = drawn.filter((one) => one !== undefined)
  return whole.length === drawn.length ? whole : undefined
}

function flawedOf(count: number, random: Random): readonly boolean[] {
  const half = count % 2 === 0 ? count / 2 : (count - 1) / 2 + random.below(2)
  const number = count === 1 ? half : Math.min(count - 1, Math.max(1, half))
  return shuffled(
    random.fork('order'),
    Array.from({ length: count }, (_, k) => k < number)
  )
}

function crackedHole({ holes, technique }: HoleSheet, random: Random) {
  for (let k = 0; k < TRIES; k++) {
    const like = oneOf(random.fork(`like ${k}`), holes)
    const flaw = crackIn(like, technique, random.fork(`crack ${k}`))
    if (flaw !== undefined) return { like, flaw }
  }
  return undefined
}

export const sceneOf = ({ like, flaw, scratches, pattern }: Drawn, staging: Staged): HoleScene =>
  sceneOfHole({ hole: like, pattern, flaws: flaw === undefined ? [] : [flaw], scratches }, staging)

const tenths = (meters: number): string => (1000 * meters).toFixed(1)

/** What is in a practice hole, in words; sizes in mm, depths from the entry face, the angle from the index pulse. */
export function saidOf({ like, flaw, scratches }: Drawn): string {
  const beside = scratches.length === 0 ? '' : '; a scratch'
  if (flaw === undefined) return `no flaw${beside}; simulated`
  const { depth_m, length_m, angle_turn, z0_m, z1_m } = flaw
  const ends = [0, ...like.interfaces_mm, like.grip_mm]
  const isCorner = ends.some((end) => [z0_m, z1_m].some((z) => Math.abs(1000 * z - end) < 1e-6))
  const size = `depth ${tenths(depth_m)} mm, length ${tenths(length_m)} mm`
  const place = `at ${Math.round(360 * angle_turn) % 360}°, ${tenths(z0_m)} to ${tenths(z1_m)} mm`
  return `${isCorner ? 'corner' : 'mid-bore'} crack, ${size}, ${place}${beside}; simulated`
}
