/**
 * Coils over a plate and in a hole by finite elements (FreeFem++, fields/*.edp: axisymmetric, second order), against the
 * integrals of the fields room. The elements end at a finite distance where the field is held at zero. What that throws
 * back is nearly a dipole's field and falls nearly with the third power of the distance, almost all of it in the
 * reactance. Each case is therefore computed for two distances: the offset must stay below what a dipole of the coil's size
 * makes, fall nearly as it should, and be gone in the value drawn out to an endless distance.
 */
import { spawnSync } from 'node:child_process'
import { join } from 'node:path'
import { hertz, meters, siemensPerMeter } from '@trueloop/ground/quantity'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import {
  type Coil,
  coaxialInHole,
  coaxialProbe,
  holeImpedanceChange,
  type Impedance,
  impedanceChange,
  inductance_H
} from '@trueloop/metal/fields'

export const title = 'coils over a plate and in a hole by finite elements (FreeFem++)'

/** Of |Delta Z|, for the resistance: what second-order elements leave on these meshes; 2e-7 when it was set. */
const MESH = 1e-6
/** Of |Delta Z|, for the value drawn out: the power is not exactly the third; 1e-5 for the plate when it was set. */
const DRAWN_OUT = 2e-5
/** Share of the third power by which the offset falls at least and at most; 0.86 for the plate, 0.95 and more for the hole. */
const FALLS = [0.8, 1.05] as const
const FINE = 2

interface Case {
  readonly name: string
  readonly script: string
  /** mm, as the scripts take them. */
  readonly coil: { readonly r1: number; readonly r2: number; readonly long: number; readonly turns: number }
  readonly part: Readonly<Record<string, number>>
  readonly freq: number
  readonly sigma: number
  readonly mur: number
  readonly far: readonly [number, number]
}

// source: team-15, problem 1
const plate = { r1: 6.15, r2: 12.4, long: 6.15, turns: 3790 }
const bobbin = { r1: 3, r2: 5, long: 2, turns: 100 }
const inHole = { script: 'bore.edp', coil: bobbin, part: { bore: 5.5 }, freq: 10e3, sigma: 2e6 }
const cases: readonly Case[] = [
  {
    name: 'coil 1 of TEAM 15 over its plate',
    script: 'plate.edp',
    coil: plate,
    part: { lift: 0.88, thick: 12.22 },
    freq: 900,
    sigma: 30.6e6,
    mur: 1,
    far: [200, 400]
  },
  { name: 'coaxial coil in a hole', ...inHole, mur: 1, far: [80, 240] },
  { name: 'coaxial coil in a hole of magnetic metal', ...inHole, mur: 50, far: [80, 240] }
]

const must = <T>(value: Result<T>): T => {
  if (isRefusal(value)) throw new Error(`${value.code}: found ${value.found}; needed ${value.needed}`)
  return value
}

const mm = (value: number) => meters(1e-3 * value)

const coilOf = ({ r1, r2, long, turns }: Case['coil']): Coil => ({
  innerRadius: mm(r1),
  outerRadius: mm(r2),
  length: mm(long),
  turns
})

/** What the program says. */
function ours({ coil, part, freq, sigma, mur }: Case): Impedance {
  const metal = { conductivity: siemensPerMeter(sigma), permeability: mur }
  if (part.bore !== undefined) {
    const probe = must(coaxialInHole({ coil: coilOf(coil), holeDiameter: mm(2 * part.bore) }))
    return must(holeImpedanceChange(probe, hertz(freq), metal))
  }
  const probe = must(coaxialProbe({ coil: coilOf(coil), liftOff: mm(part.lift ?? 0) }))
  const air = { conductivity: siemensPerMeter(0), permeability: 1, thickness: 'infinite' } as const
  return must(impedanceChange(probe, hertz(freq), [{ ...metal, thickness: mm(part.thick ?? 0) }, air]))
}

interface Elements {
  readonly triangles: number
  readonly L0_H: number
  readonly dR: number
  readonly dX: number
}

interface Context {
  readonly root: string
  readonly findTool: (name: 'freefem') => string | undefined
  readonly say: (line: string) => void
}

/** One run of FreeFem++ with its air ending at `far`. */
function elements(program: string, root: string, one: Case, far: number): Elements {
  const { coil, part, freq, sigma, mur } = one
  const numbers = { ...coil, ...part, freq, sigma, mur, far, fine: FINE }
  const args = Object.entries(numbers).flatMap(([name, value]) => [`-${name}`, String(value)])
  const cwd = join(root, 'house', 'long', 'fields')
  const { status, stdout } = spawnSync(program, ['-nw', '-v', '0', one.script, ...args], { cwd, encoding: 'utf8' })
  const values = (name: string) =>
    stdout
      .match(new RegExp(`^${name} (.*)$`, 'm'))?.[1]
      ?.split(' ')
      .map(Number) ?? []
  const [triangles, L0_H] = [values('triangles')[0], values('inductance')[0]]
  const [dR, dX] = values('change')
  if (status !== 0 || triangles === undefined || L0_H === undefined || dR === undefined || dX === undefined)
    throw new Error(`FreeFem++ ended with ${status} on ${one.script}\n${stdout.slice(-1000)}`)
  return { triangles, L0_H, dR, dX }
}

/** Value at an endless distance of what falls with its third power. */
const drawnOut = (near: number, farther: number, ratio: number): number =>
  farther + (farther - near) / (ratio * ratio * ratio - 1)

function compared(one: Case, [near, farther]: readonly [Elements, Elements]) {
  const { resistance, reactance } = ours(one)
  const size = Math.hypot(resistance, reactance)
  const L0_H = must(inductance_H(coilOf(one.coil)))
  const ratio = one.far[1] / one.far[0]
  const offset = (from: Elements) => (from.dX - reactance) / size
  // a dipole of the coil's size, thrown back from `far`
  const bound = ((one.coil.r2 / one.far[1]) ** 3 * 2 * Math.PI * one.freq * L0_H) / size
  const figures = {
    case: one.name,
    triangles: farther.triangles,
    ours_ohm: [resistance, reactance],
    elements_ohm: [farther.dR, farther.dX],
    // all relative to |Delta Z|
    resistance: (farther.dR - resistance) / size,
    reactance: offset(farther),
    reactanceBound: bound,
    offsetFalls: offset(near) / offset(farther),
    offsetShouldFall: ratio ** 3,
    reactanceDrawnOut: (drawnOut(near.dX, farther.dX, ratio) - reactance) / size,
    inductanceDrawnOut: drawnOut(near.L0_H, farther.L0_H, ratio) / L0_H - 1
  }
  const share = figures.offsetFalls / figures.offsetShouldFall
  const ok =
    Math.abs(figures.resistance) < MESH &&
    Math.abs(figures.reactance) < bound &&
    FALLS[0] < share &&
    share < FALLS[1] &&
    Math.abs(figures.reactanceDrawnOut) < DRAWN_OUT &&
    Math.abs(figures.inductanceDrawnOut) < DRAWN_OUT
  return { ok, ...figures }
}

export async function run({ root, findTool, say }: Context) {
  const program = findTool('freefem')
  if (program === undefined)
    throw new Error(
      'found no FreeFem++; needed: the program of the Debian package freefem++; get it by `npm run outside -- --yes --long`, or as root by `apt-get install freefem++`'
    )
  const results = cases.map((one) => {
    const [near, farther] = one.far.map((far) => elements(program, root, one, far))
    const result = compared(one, [near!, farther!])
    say(`${one.name}: reactance off by ${result.reactanceDrawnOut.toExponential(1)} of |Delta Z|`)
    return result
  })
  return {
    ok: results.every(({ ok }) => ok),
    tolerance: { resistance: MESH, drawnOut: DRAWN_OUT, falls: FALLS },
    results
  }
}
