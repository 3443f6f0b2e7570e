import { cos, PI, sin } from './elementary.ts'

const HALF_PI = 0.5 * PI

/** cos and sin of 2 pi k / n for n a multiple of 4, folded into the first eighth so that symmetric roots are equal to the bit. */
export function unitRoot(k: number, n: number): readonly [number, number] {
  const quarterTurns = Math.floor((4 * k) / n)
  const rest = 4 * k - quarterTurns * n
  const [c, s] =
    2 * rest > n ? [sin(((n - rest) / n) * HALF_PI), cos(((n - rest) / n) * HALF_PI)] : firstEighth(rest / n)
  if (quarterTurns % 4 === 0) return [c, s]
  if (quarterTurns % 4 === 1) return [-s, c]
  return quarterTurns % 4 === 2 ? [-c, -s] : [s, -c]
}

const firstEighth = (quarters: number): readonly [number, number] => [cos(quarters * HALF_PI), sin(quarters * HALF_PI)]
