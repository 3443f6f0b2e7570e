import { pow, randomFrom } from '@trueloop/ground/numerics'
import { type DrawnHole, drawBlank } from './draw/blank.ts'
import { drawFlawed, mostFlaws } from './draw/flawed.ts'
import { drawNuisance, nuisanceKinds } from './draw/nuisance.ts'
import { drawSetup, type Setup } from './draw/setup.ts'
import type { HoleScene } from './scene.ts'
import { SEEDS } from './seeds.ts'

/** One set-up's part of a generated trial. Holes are made one at a time, as they are asked for. */
export interface TrialPart {
  readonly setup: Setup
  readonly reference: { readonly scene: HoleScene; readonly seed: number }
  readonly holes: Iterable<TrialHole>
  /** how many `holes` gives, and how many flaws are in them */
  readonly count: number
  readonly flaws: number
}

export interface TrialHole extends DrawnHole {
  readonly id: string
}

/** The generated trials of this issue: their set-ups, and what each set-up has in each. */
export type TrialName = Exclude<keyof typeof SEEDS, 'setups'>

export const SETUPS = 20

export interface TrialLimits {
  /** first set-up and number of set-ups; absent: all */
  readonly setups?: readonly [first: number, count: number]
  /** at most so many holes a set-up; absent: all */
  readonly holes?: number
}

/**
 * A generated trial by the name of its seed: `sizing` 50 notch-like flaws of 0.3 to 1.5 mm a set-up, several to a hole;
 * `smallest` 90 notch-like flaws graded from 0.06 to 0.8 mm by even factors, up to three to a hole, and 50 holes without; `blanks` 1 000 holes
 * without; `classing` every kind twice in every fourth set-up. The same name gives the same holes, whatever the limits.
 */
export function* trials(name: TrialName, limits: TrialLimits = {}): Generator<TrialPart> {
  const [first, count] = limits.setups ?? [0, SETUPS]
  for (let k = first; k < first + count; k++) {
    const setup = drawSetup(SEEDS.setups, k)
    const part = parts[name](setup, k)
    if (part.length === 0) continue
    const kept = part.slice(0, limits.holes ?? part.length)
    yield {
      setup,
      reference: { scene: setup.referenceScene, seed: setup.referenceSeed },
      holes: { [Symbol.iterator]: () => made(setup, kept) },
      count: kept.length,
      flaws: kept.reduce((sum, { flaws }) => sum + flaws, 0)
    }
  }
}

/** A hole that is to be drawn. */
interface Planned {
  readonly id: string
  readonly flaws: number
  readonly draw: (setup: Setup) => DrawnHole
}

function* made(setup: Setup, planned: readonly Planned[]): Generator<TrialHole> {
  for (const { id, draw } of planned) yield { id: `${setup.id}, ${id}`, ...draw(setup) }
}

const SIZED = 50
const GRADED = 90
const GRADED_TOGETHER = 3

/** Depths in even steps and mixed, so that every hole has some of each. */
function sizing(setup: Setup): readonly Planned[] {
  const together = mostFlaws(setup)
  const holes = Math.ceil(SIZED / together)
  return Array.from({ length: holes }, (_, h) => {
    const numbers = Array.from({ length: SIZED }, (_, k) => k).filter((k) => k % holes === h)
    const random = randomFrom(`rehearse sizing ${SEEDS.sizing} ${setup.id}`).fork(`${h}`)
    const depths_mm = numbers.map((k) => 0.3 + (1.2 * (k + random.uniform())) / SIZED)
    return flawed(`sized ${h}`, SEEDS.sizing + h, depths_mm)
  })
}

function smallest(setup: Setup): readonly Planned[] {
  const together = Math.min(GRADED_TOGETHER, mostFlaws(setup))
  const holes = Math.ceil(GRADED / together)
  const small = Array.from({ length: holes }, (_, h) => {
    const numbers = Array.from({ length: GRADED }, (_value, k) => k).filter((k) => k % holes === h)
    return flawed(`small ${h}`, SEEDS.smallest + h, numbers.map(gradedDepth))
  })
  return [...small, ...Array.from({ length: 50 }, (_, h) => blank(`blank ${h}`, SEEDS.smallest + 10_000 + h))]
}

/** Depths in even factors. */
const gradedDepth = (k: number): number => 0.06 * pow(0.8 / 0.06, (k + 0.5) / GRADED)

const flawed = (id: string, seed: number, depths_mm: readonly number[]): Planned => ({
  id,
  flaws: depths_mm.length,
  draw: (setup) => drawFlawed(setup, seed, { kind: 'notch', depth_mm: [0, 0], depths_mm })
})

const blank = (id: string, seed: number): Planned => ({ id, flaws: 0, draw: (setup) => drawBlank(setup, seed) })

const blanks = (): readonly Planned[] => Array.from({ length: 1000 }, (_, h) => blank(`blank ${h}`, SEEDS.blanks + h))

function classing(_: Setup, k: number): readonly Planned[] {
  if (k % 4 !== 0) return []
  return [0, 1].flatMap((again) => {
    const seed = SEEDS.classing + again
    const flaw = (kind: 'notch' | 'crack', place: 'corner' | 'mid-bore'): Planned => ({
      id: `${kind} at ${place} ${again}`,
      flaws: 1,
      draw: (setup) => drawFlawed(setup, seed, { kind, place, depth_mm: [0.5, 1.3] })
    })
    return [
      ...(['notch', 'crack'] as const).flatMap((kind) => [flaw(kind, 'mid-bore'), flaw(kind, 'corner')]),
      ...nuisanceKinds.map((kind) => ({
        id: `${kind} ${again}`,
        flaws: 0,
        draw: (setup: Setup) => drawNuisance(setup, seed, kind)
      })),
      blank(`nothing ${again}`, seed)
    ]
  })
}

const parts: Readonly<Record<TrialName, (setup: Setup, k: number) => readonly Planned[]>> = {
  sizing,
  smallest,
  blanks,
  classing
}
