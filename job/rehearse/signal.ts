import { PI, type Random, randomFrom } from '@trueloop/ground/numerics'
import { halfDistance } from './bell.ts'
import { fieldTerms, type TableShelf } from './field/index.ts'
import { metalOf, weighed } from './metal.ts'
import { depthsOf, turnClock, wallAt } from './motion.ts'
import { directTerms, particleTerms } from './probe-terms.ts'
import type { HoleScene } from './scene.ts'
import type { Place, Sum, Term } from './term.ts'
import { wallTerms } from './wall.ts'

/**
 * The signal before the instrument and without noise in time: a continuous function of time alone. The pair is taken apart
 * by its half distance to either side; the second pick-up is subtracted, weaker by the imbalance, or absent (half open).
 */
export function signalOf(scene: HoleScene, random: Random, shelf: TableShelf): (time: number, sum: Sum) => Place {
  const { pattern } = scene.wall
  const wallRandom = pattern === 'from the seed' ? random.fork('wall') : randomFrom(`rehearse wall ${pattern}`)
  const pair = [...wallTerms(scene, wallRandom), ...particleTerms(scene, random.fork('particles'))]
  const direct = [
    ...directTerms(scene, { wall: wallRandom.fork('noise'), probe: random.fork('probe') }),
    weighed(metalOf(scene), fieldTerms(scene, shelf))
  ]
  const { imbalance, tilt } = scene.probe
  const trailing = scene.fault.kind === 'half open' ? 0 : 1 - (imbalance + (tilt?.imbalance ?? 0))
  const half = (scene.motion.sense * halfDistance(scene.probe.lobe_spacing_m)) / (PI * scene.hole.diameter_m)
  const place: Place = { wall: 0, z: 0, turn: 0, time: 0 }
  const locate = locator(scene)
  const [lead, trail, added] = [
    { x: 0, y: 0 },
    { x: 0, y: 0 },
    { x: 0, y: 0 }
  ]
  return (time, sum) => {
    locate(time, place)
    const { wall } = place
    place.wall = wall + half
    seen(pair, place, lead)
    place.wall = wall - half
    if (trailing !== 0) seen(pair, place, trail)
    place.wall = wall
    seen(direct, place, added)
    sum.x = lead.x - trailing * trail.x + added.x
    sum.y = lead.y - trailing * trail.y + added.y
    return place
  }
}

function locator(scene: HoleScene): (time: number, place: Place) => void {
  const turns = turnClock(scene.motion)
  const depth = depthsOf(scene.motion.feed)
  return (time, place) => {
    place.time = time
    place.turn = turns((time * scene.motion.rpm) / 60)
    place.z = depth(place.turn)
    place.wall = wallAt(scene, place.turn)
  }
}

function seen(terms: readonly Term[], place: Place, sum: Sum): void {
  sum.x = 0
  sum.y = 0
  for (const term of terms) term(place, sum)
}
