import type { HoleStandard } from '../plan/index.ts'
import { UNIT } from '../signal/index.ts'
import { type DepthScale, pointAt } from './place.ts'
import type { Wall } from './wall.ts'

/**
 * By how much the datum of the standard is turned against the index pulse, degrees: 0 where the standard says that its
 * angles count from the index pulse; otherwise the whole degree at which the pattern of all notches answers best.
 */
export function turnedDatum(
  wall: Wall,
  {
    standard,
    scale,
    spacing
  }: { readonly standard: HoleStandard; readonly scale: DepthScale; readonly spacing: number }
): number {
  if (standard.angle_datum === 'index pulse') return 0
  const half = Math.round(0.5 * spacing)
  const rows = standard.notches.map((notch) => {
    const middle = pointAt(scale, 0.5e-3 * (notch.z0_mm + notch.z1_mm))
    return { row: Math.floor(middle / UNIT) * UNIT - wall.first, angle: notch.angle_deg, depth: notch.depth_mm }
  })
  const answer = (turned: number) =>
    rows.reduce((sum, { row, angle, depth }) => {
      const turns = (angle + turned) / 360
      const at = row + Math.round((turns - Math.floor(turns)) * UNIT)
      const a = at - half
      const b = at + half
      if (a < 0 || b >= wall.length) return sum
      const dx = wall.x[b]! - wall.x[a]!
      const dy = wall.y[b]! - wall.y[a]!
      return sum + depth * Math.sqrt(dx * dx + dy * dy)
    }, 0)
  let best = 0
  let most = -1
  for (let turned = 0; turned < 360; turned++) {
    const now = answer(turned)
    if (now > most) {
      most = now
      best = turned
    }
  }
  return best
}
