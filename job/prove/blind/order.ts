import { randomFrom } from '@trueloop/ground/numerics'

/** All of a list in an order drawn by a seed: every order is as likely as any other (Fisher and Yates). source: knuth-1997 */
export function ordered<T>(list: readonly T[], seed: string): readonly T[] {
  const random = randomFrom(`blind order ${seed}`)
  const out = [...list]
  for (let last = out.length - 1; last > 0; last--) {
    const at = random.below(last + 1)
    const kept = out[last]!
    out[last] = out[at]!
    out[at] = kept
  }
  return out
}
