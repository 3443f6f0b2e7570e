import { cos, sin, TAU } from '@trueloop/ground/numerics'
import type { Feed, HoleScene, Motion } from './scene.ts'

/** Turns of the probe at τ turns of the nominal speed: the exact integral of the speed that `Motion` defines. */
export const turnsAt = (motion: Motion, nominal: number): number => turnClock(motion)(nominal)

/** The same as a function of τ, what does not change computed once. */
export function turnClock(motion: Motion): (nominal: number) => number {
  const swings = motion.drift.map(({ share, cycles_per_turn, phase_turn }) => {
    const phase = TAU * phase_turn
    return { size: share / (TAU * cycles_per_turn), rate: TAU * cycles_per_turn, phase, start: cos(phase) }
  })
  return (nominal) => {
    let turns = nominal
    for (const { size, rate, phase, start } of swings) turns += size * (start - cos(rate * nominal + phase))
    return turns
  }
}

const speedAt = (motion: Motion, nominal: number): number =>
  motion.drift.reduce((sum, { share, cycles_per_turn, phase_turn }) => {
    return sum + share * sin(TAU * (cycles_per_turn * nominal + phase_turn))
  }, 1)

/** Time in s at which the probe has made so many turns; the inverse of `turnsAt` by Newton's method. */
export function timeOfTurn(motion: Motion, turns: number): number {
  let nominal = turns
  for (let k = 0; k < 60; k++) {
    const step = (turnsAt(motion, nominal) - turns) / speedAt(motion, nominal)
    nominal -= step
    if (Math.abs(step) < 1e-12) break
  }
  return (nominal * 60) / motion.rpm
}

/**
 * Depth in m from the entry face as a function of the turns; below zero before the hole. A profile keeps its place, since
 * turns mostly go forward.
 */
export function depthsOf(feed: Feed): (turns: number) => number {
  if (feed.kind === 'constant') return (turns) => feed.pitch_m * (turns - feed.leadIn_turn)
  const { points } = feed
  let k = 1
  return (turns) => {
    while (k < points.length - 1 && points[k]!.turn < turns) k++
    while (k > 1 && points[k - 1]!.turn >= turns) k--
    const from = points[k - 1]!
    const to = points[k]!
    return from.z_m + ((to.z_m - from.z_m) * (turns - from.turn)) / (to.turn - from.turn)
  }
}

/** Turns of the whole recording. */
export function turnsOf({ motion: { feed }, hole }: HoleScene): number {
  if (feed.kind === 'constant') return feed.leadIn_turn + hole.grip_m / feed.pitch_m + feed.leadOut_turn
  return feed.points.at(-1)!.turn - feed.points[0]!.turn
}

/** Samples of the whole recording: all times i / rate before the last turn is complete. */
export const samplesOf = (scene: HoleScene): number =>
  Math.ceil(timeOfTurn(scene.motion, turnsOf(scene)) * scene.recorder.rate_Hz)

/** Turns at which the probe passes a depth, in order. */
export function passesOf({ motion: { feed } }: HoleScene, z_m: number): readonly number[] {
  if (feed.kind === 'constant') return [feed.leadIn_turn + z_m / feed.pitch_m]
  return feed.points.slice(1).flatMap((to, k) => {
    const from = feed.points[k]!
    const passed = from.z_m < z_m !== to.z_m < z_m
    return passed ? [from.turn + ((z_m - from.z_m) * (to.turn - from.turn)) / (to.z_m - from.z_m)] : []
  })
}

/** Angle of the wall under the middle of the pair, in turns, not folded. */
export const wallAt = ({ motion, recorder: { index } }: HoleScene, turns: number): number =>
  index.datum_turn + motion.sense * (turns - index.first_turn)

/** Throws RangeError for a scene that describes no recording: a wrong program, not a wrong world. */
export function checkScene(scene: HoleScene): void {
  const { hole, motion, recorder, probe, noise, instrument } = scene
  const swing = motion.drift.reduce((sum, { share }) => sum + Math.abs(share), 0)
  const positive = [hole.diameter_m, hole.grip_m, motion.rpm, recorder.rate_Hz, probe.lobe_spacing_m, probe.footprint_m]
  need(
    positive.every((value) => value > 0),
    'diameter, grip, rpm, rate, lobe spacing and footprint are above zero'
  )
  need(swing < 0.9, 'the drift leaves the probe turning')
  need(
    motion.drift.every(({ cycles_per_turn }) => cycles_per_turn > 0),
    'every drift has a frequency'
  )
  need(noise.band.rms === 0 || noise.band.bandwidth_Hz > 0, 'band-limited noise has a bandwidth')
  need(
    (instrument.filters ?? []).every(({ corner_Hz }) => corner_Hz > 0 && corner_Hz < recorder.rate_Hz / 2),
    'the corner of a filter lies between zero and half the sample rate'
  )
  need(hole.gap === undefined || hole.gap.decay_m > 0, 'the answer decays over a gap')
  checkFeed(motion.feed)
}

function checkFeed(feed: Feed): void {
  if (feed.kind === 'constant') {
    need(feed.pitch_m > 0 && feed.leadIn_turn >= 0 && feed.leadOut_turn >= 0, 'a constant feed goes forward')
    return
  }
  const { points } = feed
  need(points.length >= 2 && points[0]!.turn === 0, 'a feed profile has two points or more and begins at turn 0')
  need(
    points.slice(1).every((point, k) => point.turn > points[k]!.turn),
    'the points of a feed profile stand in order'
  )
}

function need(met: boolean, rule: string): void {
  if (!met) throw new RangeError(`a scene needs that ${rule}`)
}
