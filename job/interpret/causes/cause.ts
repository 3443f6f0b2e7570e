import type { Features } from '../features.ts'
import type { Group, Values } from '../parameters.ts'

/** What an indication is taken for (ASTM E1316: false, nonrelevant, relevant), with damage that is not a crack apart. */
export type Class = 'false' | 'nonrelevant' | 'damage, not a crack' | 'relevant' | 'undecided'

/** One sentence with its figure, and which way it speaks. */
export interface Evidence {
  readonly what: string
  readonly sentence: string
  readonly speaks: 'for' | 'against' | 'neither'
}

/** How well what is known of a place fits a cause, and why. */
export interface Weighed {
  /** 0 to 1: as much as the weakest thing that the cause asks for */
  readonly score: number
  /** speak for or against this cause; put into words when read */
  readonly reasons: readonly Evidence[]
}

/** Something that makes indications. */
export interface Cause<G extends Group = Group> {
  /** the trade's name, and other names by which a technique may list it */
  readonly name: string
  readonly alsoCalled: readonly string[]
  readonly class: Exclude<Class, 'undecided'>
  /** what it looks like, in one sentence */
  readonly looks: string
  /** key of a published source, or `common practice, no source` */
  readonly source: string
  readonly numbers: G
  /** why it never takes an indication below undecided, whatever its score and the technique; absent where it may */
  readonly never?: string
  weigh(features: Features, values: Values<G>): Weighed
}

export const PRACTICE = 'common practice, no source'

/** The same cause; its declared numbers give the type of the values that it weighs with. */
export const cause = <const G extends Group>(one: Cause<G>): Cause<G> => one
