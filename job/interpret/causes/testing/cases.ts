import type { Features } from '../../features.ts'
import { featuresOf } from '../../featuring/index.ts'
import {
  contextOf,
  lobe,
  type Mark,
  mark,
  noise,
  type Painter,
  painted,
  stack,
  UNIT,
  wave
} from '../../featuring/testing/paint.ts'
import type { Sheet } from '../../sheet.ts'

/** Entry face at revolution 4, joint at 20, exit at 36 of a painted pass. */
export const ENTRY = 4 * UNIT
export const JOINT = 20 * UNIT
const TURNS = 42
/** A place in the middle of the first layer. */
export const MIDDLE = 12 * UNIT + 200

export interface Scene {
  readonly painters: readonly Painter[]
  readonly at: number
  readonly harmonics?: readonly [number, number, number]
  readonly noise?: number
  /** the strongest place within half a revolution is meant, not `at` itself */
  readonly strongest?: boolean
}

/** Features of a place in a scene, with noise of the wall on it. */
export function seen({
  painters,
  at,
  harmonics = [0.1, 0.1, 0.05],
  noise: deviation = 0.01,
  strongest
}: Scene): Features {
  const sheet = painted([...painters, noise('wall', deviation)], { turns: TURNS, step: 4, harmonics })
  const variance = deviation * deviation
  const context = contextOf({ ...stack(ENTRY), noise: { xx: variance, xy: 0, yy: variance } })
  return featuresOf(sheet, { at: strongest === true ? strongestNear(sheet, at) : at, sign: 1, statistic: 0 }, context)
    .features
}

function strongestNear({ first, step, perTurn, cx, cy }: Sheet, at: number): number {
  const middle = Math.round((at - first) / step)
  let best = middle
  const square = (i: number) => cx[i]! * cx[i]! + cy[i]! * cy[i]!
  for (let i = middle - perTurn / 2; i < middle + perTurn / 2; i++) if (square(i) > square(best)) best = i
  return first + best * step
}

export const crackAt = (at: number, more: Partial<Mark> = {}): Painter =>
  mark({ at, direction: 88, size: 0.7, ...more })

/** All around at one depth: one line that the coil lets pass and some weaker ones, so that no place is like another. */
function ring(at: number, { size = 0.7, direction = 150, spread = 6, fall = 0.8, reach }: Ring = {}): Painter[] {
  const lines = [
    [7, 1],
    [5, 0.2],
    [9, 0.3],
    [11, 0.2]
  ].map(([perTurn, share], k) =>
    wave({ perTurn: perTurn!, direction: direction + spread * (k % 3), size: size * share!, at, fall })
  )
  if (reach === undefined) return lines
  return lines.map((line) => (point) => (Math.abs(point - at) <= reach * UNIT ? line(point) : { x: 0, y: 0 }))
}

interface Ring {
  readonly size?: number
  readonly direction?: number
  readonly spread?: number
  readonly fall?: number
  readonly reach?: number
}

/** As a ring along lift-off, over a part of the circumference. */
const arc = (at: number, direction: number, size = 0.6): Painter[] =>
  ring(at, { size, direction, spread: 2 }).map((line) => (point) => {
    const angle = (point - at) / UNIT - Math.round((point - at) / UNIT)
    const { x, y } = line(point)
    const part = Math.abs(angle) < 0.22 ? 1 : 0.1
    return { x: part * x, y: part * y }
  })

/** A burst on one revolution: lobes of any direction and size, near to each other. */
const burst = (at: number): Painter[] =>
  [
    [0, 60, 0.5],
    [14, 200, 0.45],
    [25, 310, 0.5],
    [-18, 20, 0.4]
  ].map(([off, direction, size]) =>
    mark({ at: at + off!, direction: direction!, size: size!, reach: 0, fall: 0.2, width: 0.7 })
  )

/** Irregular lobes at a fixed place over some revolutions. */
const patch = (at: number, direction: number, more: Partial<Mark> = {}): Painter[] =>
  [
    [0, 0, 0.5],
    [37, 6, -0.35],
    [71, -5, 0.42],
    [-33, 4, -0.3]
  ].map(([off, turn, size]) => mark({ at: at + off!, direction: direction + turn!, size: size!, reach: 2, ...more }))

/** A probe that sways: broad marks along lift-off, at another angle on each revolution. */
const sway = (): Painter[] =>
  Array.from({ length: TURNS }, (_, k) =>
    mark({
      at: k * UNIT + ((k * 197 + 200 - 12 * 197 + 40 * UNIT) % UNIT),
      direction: 176,
      size: 0.6,
      reach: 0,
      fall: 0.2,
      width: 1.7
    })
  )

/** A round spot: a second lobe across the first, a quarter of the form later. */
const spot = (at: number): Painter[] => [
  mark({ at: at - 8, direction: 95, size: 0.6, reach: 1 }),
  mark({ at: at + 10, direction: 10, size: 0.5, reach: 1 })
]

/** Two lobes, of which one is far stronger: metal that stands up at one side. */
const stub = (at: number, direction: number): Painter[] => [
  mark({ at, direction, size: 0.4, reach: 0.5, fall: 1 }),
  lobe({ at: at - 16, direction, size: 0.3, reach: 0.5, fall: 1, width: 0.7 })
]

export interface Case {
  /** one scene that shows the cause, and one that looks alike and is relevant */
  readonly shows: Scene
  readonly lookAlike: Scene
}

const at = MIDDLE
const edgeAt = ENTRY + 200
const jointAt = JOINT + 200
const moving = [3, 0.4, 0.1] as const
const oval = [0.1, 3, 0.1] as const

/** One case for each cause, by its name. */
export const cases: Readonly<Record<string, Case>> = {
  crack: {
    shows: { painters: [crackAt(at)], at },
    lookAlike: { painters: [crackAt(at, { size: 0.08, direction: 78 })], at }
  },
  'electrical noise': {
    shows: { painters: burst(at), at },
    lookAlike: { painters: [crackAt(at, { size: 0.09, reach: 0, fall: 0.8 })], at }
  },
  spike: {
    shows: { painters: [crackAt(at, { width: 0.3, reach: 0, fall: 0.2 })], at },
    lookAlike: { painters: [crackAt(at, { width: 0.8, reach: 0.5, fall: 1 })], at }
  },
  wobble: {
    shows: { painters: sway(), at },
    lookAlike: { painters: [...sway(), crackAt(at + 150)], at: at + 150 }
  },
  'probe not square': {
    shows: { painters: arc(edgeAt, 172), at: edgeAt, strongest: true, harmonics: moving },
    lookAlike: { painters: [crackAt(edgeAt, { reach: 0.5 })], at: edgeAt, harmonics: moving }
  },
  'loose particle': {
    shows: { painters: [crackAt(at, { direction: 250 })], at },
    lookAlike: { painters: [crackAt(at, { direction: 70, reach: 0, fall: 1 })], at }
  },
  edge: {
    shows: { painters: ring(edgeAt), at: edgeAt, strongest: true },
    lookAlike: { painters: [...ring(edgeAt, { size: 0.2 }), crackAt(edgeAt + 7)], at: edgeAt + 7 }
  },
  interface: {
    shows: { painters: ring(jointAt), at: jointAt, strongest: true },
    lookAlike: { painters: [...ring(jointAt, { size: 0.3 }), crackAt(jointAt + 7)], at: jointAt + 7 }
  },
  ovality: {
    shows: {
      painters: [
        crackAt(at, { direction: 3, width: 2, reach: 7 }),
        crackAt(at + 256, { direction: 3, width: 2, reach: 7 })
      ],
      at,
      harmonics: oval
    },
    lookAlike: { painters: [crackAt(at, { reach: 3 })], at, harmonics: oval }
  },
  'conductivity change': {
    shows: { painters: [crackAt(at, { direction: 33, width: 2.2, reach: 5 })], at },
    lookAlike: { painters: [crackAt(at, { direction: 60, width: 1.3, reach: 5 })], at }
  },
  'permeability change': {
    shows: { painters: [crackAt(at, { direction: 143, width: 2.2, reach: 2 })], at },
    lookAlike: { painters: [crackAt(at, { direction: 112, width: 1.3, reach: 2 })], at }
  },
  cladding: {
    shows: { painters: ring(edgeAt, { direction: 30, fall: 0.5 }), at: edgeAt, strongest: true },
    lookAlike: { painters: [...ring(edgeAt, { direction: 30, size: 0.2 }), crackAt(edgeAt + 7)], at: edgeAt + 7 }
  },
  sealant: {
    shows: { painters: arc(jointAt, 4), at: jointAt, strongest: true },
    lookAlike: { painters: [...arc(jointAt + 130, 4, 0.3), crackAt(jointAt)], at: jointAt }
  },
  'split line of a sleeve': {
    shows: { painters: [crackAt(at, { reach: 7.4, fall: 0.6 })], at },
    lookAlike: { painters: [crackAt(at, { reach: 5 })], at }
  },
  bushing: {
    shows: { painters: ring(at, { direction: 140, reach: 7.9, fall: 20 }), at, strongest: true },
    lookAlike: { painters: [...ring(at, { size: 0.2, reach: 7.9, fall: 20 }), crackAt(at + 7)], at: at + 7 }
  },
  'neighbor metal': {
    shows: { painters: ring(jointAt, { direction: 35, spread: 2 }), at: jointAt, strongest: true },
    lookAlike: { painters: [...ring(jointAt, { direction: 35, size: 0.2 }), crackAt(jointAt + 7)], at: jointAt + 7 }
  },
  score: {
    shows: { painters: [crackAt(at, { direction: 168, reach: 9, helix: 0.004 })], at },
    lookAlike: { painters: [crackAt(at, { reach: 9 })], at }
  },
  galling: {
    shows: { painters: patch(at, 172), at },
    lookAlike: { painters: [...patch(at + 170, 172), crackAt(at)], at }
  },
  chatter: {
    shows: { painters: [wave({ perTurn: 8, direction: 176, size: 0.3 })], at, strongest: true },
    lookAlike: { painters: [wave({ perTurn: 8, direction: 176, size: 0.2 }), crackAt(at + 8)], at: at + 8 }
  },
  burr: {
    shows: { painters: stub(edgeAt, 170), at: edgeAt },
    lookAlike: { painters: [crackAt(edgeAt, { reach: 0.5, fall: 1 })], at: edgeAt }
  },
  pit: {
    shows: { painters: spot(at), at },
    lookAlike: { painters: [crackAt(at, { reach: 0.5 })], at }
  },
  fretting: {
    shows: { painters: [...patch(jointAt, 50, { reach: 1 }), ...patch(jointAt + 140, 52, { reach: 1 })], at: jointAt },
    lookAlike: { painters: [...patch(jointAt + 120, 50, { reach: 1 }), crackAt(jointAt)], at: jointAt }
  }
}

/** Cracks on a score along the same line, from stronger than the score to half of it: the safe side has to hold. */
export const cracksOnScores: readonly Scene[] = [0.7, 0.45, 0.3].map((size) => ({
  painters: [crackAt(at, { direction: 168, size: 0.6, reach: 12 }), crackAt(at, { size })],
  at
}))
