/**
 * Share found against size: P(found) = 1/(1 + exp(−(a + b ln size))), a and b of the greatest likelihood (Newton steps).
 * A plain yardstick to set two ways of finding side by side; the trials of capability proper are another room's.
 */
export interface Tried {
  readonly size: number
  readonly found: boolean
}

export type SizeAt =
  | { readonly kind: 'fitted' | 'separated'; readonly size: number }
  | { readonly kind: 'none'; readonly why: string }

/**
 * Size at which the given share is found. Where every flaw above one size is found and none below it (no greatest
 * likelihood exists) the middle between the two, by factor. None where nothing or everything is found or it does not rise.
 */
export function sizeFoundAt(share: number, tried: readonly Tried[]): SizeAt {
  const found = tried.filter((one) => one.found).map(({ size }) => size)
  const missed = tried.filter((one) => !one.found).map(({ size }) => size)
  if (found.length === 0) return { kind: 'none', why: 'nothing found' }
  if (missed.length === 0) return { kind: 'none', why: 'everything found' }
  const [least, most] = [Math.min(...found), Math.max(...missed)]
  if (most < least) return { kind: 'separated', size: Math.sqrt(most * least) }
  const line = likeliest(tried)
  if (line === undefined || !(line.b > 0)) return { kind: 'none', why: 'the share found does not rise with size' }
  return { kind: 'fitted', size: Math.exp((Math.log(share / (1 - share)) - line.a) / line.b) }
}

interface Line {
  readonly a: number
  readonly b: number
}

const MOST_STEPS = 60

function likeliest(tried: readonly Tried[]): Line | undefined {
  const center = tried.reduce((sum, { size }) => sum + Math.log(size), 0) / tried.length
  let line: Line = { a: 0, b: 1 }
  for (let step = 0; step < MOST_STEPS; step++) {
    const moved = newton(tried, line, center)
    if (moved === undefined) return undefined
    const change = Math.abs(moved.a - line.a) + Math.abs(moved.b - line.b)
    line = moved
    if (change < 1e-10) break
  }
  return { a: line.a - line.b * center, b: line.b }
}

/** One step uphill, halved until the likelihood does not fall: Newton alone may run away from a far start. */
function newton(tried: readonly Tried[], line: Line, center: number): Line | undefined {
  const [ga, gb, haa, hab, hbb] = slopes(tried, line, center)
  const det = haa * hbb - hab * hab
  if (!(det > 0)) return undefined
  const da = (hbb * ga - hab * gb) / det
  const db = (haa * gb - hab * ga) / det
  const before = likelihood(tried, line, center)
  for (let scale = 1; scale > 1e-6; scale /= 2) {
    const next = { a: line.a + scale * da, b: line.b + scale * db }
    if (likelihood(tried, next, center) >= before - 1e-12) return next
  }
  return line
}

function slopes(tried: readonly Tried[], { a, b }: Line, center: number) {
  const sums: [number, number, number, number, number] = [0, 0, 0, 0, 0]
  for (const { size, found } of tried) {
    const x = Math.log(size) - center
    const p = 1 / (1 + Math.exp(-(a + b * x)))
    const [left, weight] = [(found ? 1 : 0) - p, p * (1 - p)]
    sums[0] += left
    sums[1] += left * x
    sums[2] += weight
    sums[3] += weight * x
    sums[4] += weight * x * x
  }
  return sums
}

const likelihood = (tried: readonly Tried[], { a, b }: Line, center: number): number =>
  tried.reduce((sum, { size, found }) => {
    const t = a + b * (Math.log(size) - center)
    return sum - softly(found ? -t : t)
  }, 0)

/** ln(1 + exp(t)) without overflow. */
const softly = (t: number): number => Math.max(t, 0) + Math.log1p(Math.exp(-Math.abs(t)))
