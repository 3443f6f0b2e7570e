/** A straight scale from values to places on the drawing. */
export interface Scale {
  readonly from: number
  readonly to: number
  readonly start: number
  readonly end: number
}

/** Where a value lies, px. */
export const place = ({ from, to, start, end }: Scale, value: number): number =>
  start + ((value - from) / (to - from)) * (end - start)

export interface Tick {
  readonly value: number
  readonly text: string
}

/**
 * Round values between two ends (1, 2 or 5 times a power of ten apart), about `count` of them, with as many decimals as
 * their step needs. Both ends must be finite and differ.
 */
export function ticks(from: number, to: number, count: number): readonly Tick[] {
  const span = Math.abs(to - from)
  if (!(span > 0 && Number.isFinite(span))) throw new RangeError(`no ticks from ${from} to ${to}`)
  const { step, decimals } = roundStep(span / count)
  const first = Math.ceil(Math.min(from, to) / step - 1e-9)
  const last = Math.floor(Math.max(from, to) / step + 1e-9)
  return Array.from({ length: last - first + 1 }, (_, at) => tick((first + at) * step, decimals))
}

const tick = (value: number, decimals: number): Tick => ({
  value,
  text: (Math.abs(value) < 1e-12 ? 0 : value).toFixed(decimals).replace('-', '\u2212')
})

function roundStep(wanted: number): { readonly step: number; readonly decimals: number } {
  let power = 1
  let decimals = 0
  while (power * 10 <= wanted) power *= 10
  while (power > wanted) {
    decimals++
    power = 1 / tenTo(decimals)
  }
  const factor = [1, 2, 5].find((one) => one * power >= wanted) ?? 10
  return { step: factor * power, decimals: factor === 10 ? Math.max(0, decimals - 1) : decimals }
}

function tenTo(exponent: number): number {
  let value = 1
  for (let at = 0; at < exponent; at++) value *= 10
  return value
}
