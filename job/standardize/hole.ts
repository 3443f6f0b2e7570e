import { randomFrom } from '@trueloop/ground/numerics'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { AngleRuler, type ConditionedRevolution, Conditioning, DropLog, pulseLoss } from '../signal/index.ts'
import { turnedDatum } from './datum.ts'
import { findEdges } from './edges.ts'
import {
  bandOf,
  type Gathered,
  type HoleReference,
  type ReferenceRun,
  type Standardized,
  spacingOf
} from './hole-input.ts'
import { clipped, eatsPulse, MOST_PULSE_LOSS, metalDiffers, tooLong } from './hole-refusals.ts'
import { standardize } from './hole-standardization.ts'
import { findNotches } from './notches.ts'
import type { DepthScale } from './place.ts'
import { clearOf, clearPoints, liftOffAxis } from './rotation.ts'
import { MOST_UNITS, traceOf, WallBuilder } from './wall.ts'

export { bandOf, type HoleReference, type ReferenceRun, type Standardized, spacingOf } from './hole-input.ts'
export { HOLE_REFERENCE_METHOD } from './hole-standardization.ts'

/**
 * Opens the reading of a reference scan: take its segments, close for the Standardization.
 * Refuses with every code of this room and those of the signal room.
 */
export function openHoleReference(input: HoleReference): Result<ReferenceRun> {
  const { technique, standard } = input
  const band = bandOf(technique, standard.hole_diameter_mm)
  const loss = pulseLoss(band, spacingOf(technique, standard.hole_diameter_mm))
  if (loss > MOST_PULSE_LOSS) return eatsPulse(loss)
  if (technique.metal !== standard.metal) return metalDiffers(technique.metal, standard.metal)
  const drops = new DropLog()
  const wall = new WallBuilder()
  const conditioning = new Conditioning<'angle', ConditionedRevolution['a']>(band, (unit) => {
    wall.add(unit)
    return wall.units > MOST_UNITS ? tooLong() : undefined
  })
  const ruler = new AngleRuler(
    {
      rate_Hz: input.rate_Hz,
      speed_Hz: technique.rotation_rpm / 60,
      tolerance: technique.speed_tolerance,
      indexed: input.indexed,
      band
    },
    drops,
    (revolution) => conditioning.take(revolution)
  )
  return {
    take: (segment) => ruler.take(segment),
    close: () => {
      const turning = ruler.end()
      if (isRefusal(turning)) return turning
      const read = readWall(input, { wall: wall.build(), band, turning, loss })
      return isRefusal(read) ? read : { ...read, dropped: drops.entries() }
    }
  }
}

function readWall(input: HoleReference, gathered: Gathered): Result<Omit<Standardized, 'dropped'>> {
  const { wall, turning } = gathered
  const { standard } = input
  if (turning.clipped > 0) return clipped(turning.clipped)
  const edges = findEdges(traceOf(wall))
  if (isRefusal(edges)) return edges
  const scale: DepthScale = {
    entry: edges.entry,
    metresPerPoint: (standard.thickness_mm * 1e-3) / (edges.exit - edges.entry)
  }
  const spacing = spacingOf(input.technique, standard.hole_diameter_mm)
  const turned_deg = turnedDatum(wall, { standard, scale, spacing })
  const searched = {
    ...standard,
    notches: standard.notches.map((n) => ({ ...n, angle_deg: n.angle_deg + turned_deg }))
  }
  const free = clearPoints(wall, scale, searched, clearOf(input.technique.lobe_spacing_mm * 1e-3))
  const rotation = liftOffAxis(wall, free, randomFrom('standardize/rotation'))
  if (isRefusal(rotation)) return rotation
  const met = findNotches(wall, { standard, scale, spacing, turned_deg })
  if (isRefusal(met)) return met
  return standardize(input, { ...gathered, edges, scale, free, rotation, met, spacing, turned_deg })
}
