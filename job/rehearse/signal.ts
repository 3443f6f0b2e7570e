import { PI, type Random, randomFrom } from '@trueloop/ground/numerics'
import { halfDistance } from './bell.ts'
import { depthAt, turnsAt, wallAt } from './motion.ts'
import { directTerms, particleTerms } from './probe-terms.ts'
import type { HoleScene } from './scene.ts'
import type { Place, Sum, Term } from './term.ts'
import { wallTerms } from './wall.ts'

/**
 * The signal before the instrument and without noise in time: a continuous function of time alone. The pair is taken apart
 * by its half distance to either side; the second pick-up is subtracted, weaker by the imbalance, or absent (half open).
 */
export function signalOf(scene: HoleScene, random: Random): (time: number, sum: Sum) => Place {
  const { pattern } = scene.wall
  const wallRandom = pattern === 'from the seed' ? random.fork('wall') : randomFrom(`rehearse wall ${pattern}`)
  const pair = [...wallTerms(scene, wallRandom), ...particleTerms(scene, random.fork('particles'))]
  const direct = directTerms(scene, { wall: wallRandom.fork('noise'), probe: random.fork('probe') })
  const trailing = scene.fault.kind === 'half open' ? 0 : 1 - scene.probe.imbalance
  const half = (scene.motion.sense * halfDistance(scene.probe.lobe_spacing_m)) / (PI * scene.hole.diameter_m)
  const place: Place = { wall: 0, z: 0, turn: 0, time: 0 }
  return (time, sum) => {
    locate(scene, time, place)
    const { wall } = place
    const lead = seen(pair, place, wall + half)
    const trail = trailing === 0 ? nothing : seen(pair, place, wall - half)
    const added = seen(direct, place, wall)
    sum.x = lead.x - trailing * trail.x + added.x
    sum.y = lead.y - trailing * trail.y + added.y
    return place
  }
}

const nothing: Sum = { x: 0, y: 0 }

function locate(scene: HoleScene, time: number, place: Place): void {
  place.time = time
  place.turn = turnsAt(scene.motion, (time * scene.motion.rpm) / 60)
  place.z = depthAt(scene.motion.feed, place.turn)
  place.wall = wallAt(scene, place.turn)
}

function seen(terms: readonly Term[], place: Place, wall: number): Sum {
  const sum = { x: 0, y: 0 }
  place.wall = wall
  for (const term of terms) term(place, sum)
  return sum
}
