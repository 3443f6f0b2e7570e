import { cos, type Random, TAU } from '@trueloop/ground/numerics'
import { axialProfile, UNIT_BELL } from './bell.ts'
import { lineField } from './lattice.ts'
import { metalOf, weighed } from './metal.ts'
import { turnsOf } from './motion.ts'
import type { Chatter, HoleScene, Particle } from './scene.ts'
import { angularBell, axialAnswer, fieldOf } from './shapes.ts'
import { along, type Term } from './term.ts'
import { probeTiltTerms } from './terms/probe-tilt.ts'

/** What does not pass through the pair of pick-ups: it is added to their difference. */
export function directTerms(
  scene: HoleScene,
  random: { readonly wall: Random; readonly probe: Random }
): readonly Term[] {
  const chatter = scene.damage.filter((one) => one.kind === 'chatter').map((one) => chatterTerm(scene, one))
  const wobble = wobbleTerm(scene, random.probe.fork('wobble'))
  const onWall = [wobble, ...probeTiltTerms(scene), ...chatter, ...wallNoise(scene, random.wall)]
  return [weighed(metalOf(scene), onWall), humTerm(scene)]
}

/** Loose particles pass through the pair, but lie elsewhere at every turn. */
export const particleTerms = (scene: HoleScene, random: Random): readonly Term[] =>
  scene.disturbances.particles.map((one, k) => particleTerm(scene, one, random.fork(`particle ${k}`)))

function wobbleTerm(scene: HoleScene, random: Random): Term {
  const { rms_m, knot_turn } = scene.wall.wobble
  const { per_m, direction_rad } = scene.probe.liftoff
  const wobble = lineField({ rms: rms_m, knot: knot_turn, along: { from: 0, to: turnsOf(scene) } }, random)
  return along(direction_rad, ({ turn }) => per_m * wobble(turn))
}

function chatterTerm(scene: HoleScene, chatter: Chatter): Term {
  const profile = axialProfile(chatter, scene.probe.footprint_m)
  return along(chatter.direction_rad, ({ wall, z }) => {
    const size = profile(z)
    return size === 0 ? 0 : 0.5 * chatter.size * size * cos(TAU * chatter.per_turn * (wall - chatter.phase_turn))
  })
}

function wallNoise(scene: HoleScene, random: Random): readonly Term[] {
  const x = fieldOf(scene, scene.noise.wall, random.fork('x'))
  const y = fieldOf(scene, scene.noise.wall, random.fork('y'))
  return [
    ({ wall, z }, sum) => {
      sum.x += x(wall, z)
      sum.y += y(wall, z)
    }
  ]
}

function humTerm({ disturbances: { hum } }: HoleScene): Term {
  if (hum.size === 0) return () => undefined
  return along(hum.direction_rad, ({ time }) => 0.5 * hum.size * cos(TAU * (hum.frequency_Hz * time + hum.phase_turn)))
}

function particleTerm(scene: HoleScene, particle: Particle, random: Random): Term {
  const profile = axialAnswer(scene, particle)
  const around = angularBell(scene, 0)
  const turns = turnsOf(scene)
  const wander = lineField({ rms: particle.wander_rms_turn, knot: 1, along: { from: 0, to: turns } }, random)
  const height = particle.size * UNIT_BELL
  return along(particle.direction_rad, ({ wall, z, turn }) => {
    const size = profile(z)
    if (size === 0) return 0
    return height * size * around(wall - particle.angle_turn - particle.drift_turn_per_turn * turn - wander(turn))
  })
}
