import { planFft } from '@trueloop/ground/numerics'
import type { Features } from '../features.ts'
import type { Sheet } from '../sheet.ts'
import { elementOf } from './loop.ts'
import type { FeatureValues } from './numbers.ts'

/** Points of a revolution that are transformed: lines up to half as many are told apart, far above the notch's own. */
const MOST_POINTS = 256

/**
 * The strongest line of 4 or more a revolution in c around a place: mean power of whole revolutions around it. A line of
 * size a along one direction is a·cos: its power stands at +k and −k. Nothing where there is no whole revolution.
 */
export function combOf(sheet: Sheet, at: number, { combLeast, combTurns }: FeatureValues): Features['comb'] {
  const points = Math.min(MOST_POINTS, sheet.perTurn)
  const power = turnPower(sheet, elementOf(sheet, at), { points, most: Math.max(1, Math.round(combTurns)) })
  let total = 0
  let best = 0
  let perTurn = 0
  for (let k = 1; k < points / 2; k++) {
    const line = power[k]! + power[points - k]!
    total += line
    if (k >= combLeast && line > best) {
      best = line
      perTurn = k
    }
  }
  return { perTurn, share: total > 0 ? best / total : 0, size: Math.sqrt(2 * best) }
}

/** Mean power of each line over the whole revolutions nearest to an element, `[points]`; zero where there is none. */
function turnPower(
  { cx, cy, perTurn, length }: Sheet,
  element: number,
  { points, most }: { readonly points: number; readonly most: number }
): Float64Array {
  const stride = perTurn / points
  const turns = Math.min(most, Math.floor(length / perTurn))
  const wanted = Math.round(element - 0.5 * turns * perTurn)
  const start = Math.max(0, Math.min(length - turns * perTurn, wanted))
  const fft = planFft(points)
  const power = new Float64Array(points)
  const re = new Float64Array(points)
  const im = new Float64Array(points)
  for (let turn = 0; turn < turns; turn++) {
    for (let i = 0; i < points; i++) {
      re[i] = cx[start + turn * perTurn + i * stride]!
      im[i] = cy[start + turn * perTurn + i * stride]!
    }
    fft.forward(re, im)
    for (let k = 0; k < points; k++) power[k]! += (re[k]! * re[k]! + im[k]! * im[k]!) / (points * points * turns)
  }
  return power
}

/** Content once, twice and three times a revolution in the revolution of a place. */
export function harmonicsAt(sheet: Sheet, at: number): Features['harmonics'] {
  const { harmonics } = sheet
  const turn = Math.floor(elementOf(sheet, at) / sheet.perTurn)
  const row = 3 * Math.max(0, Math.min(harmonics.length / 3 - 1, turn))
  return [harmonics[row] ?? 0, harmonics[row + 1] ?? 0, harmonics[row + 2] ?? 0]
}
