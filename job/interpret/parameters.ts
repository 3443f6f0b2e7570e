/**
 * A number of the method that physics or practice does not fix exactly: declared once, with what it is and why it has
 * this value, so that it can be printed, and moved to see what depends on it.
 */
export interface Declared {
  readonly value: number
  readonly unit: string
  readonly reason: string
}

/** A group of declared numbers, by name. */
export type Group = Readonly<Record<string, Declared>>

/** The values of a group. */
export type Values<G extends Group> = { readonly [K in keyof G]: number }

/** Values of groups as they are declared: one record a group, so that code that reads it sees one shape. */
const declared = new WeakMap<Group, Values<Group>>()

/** The declared values of a group, with some of them replaced: `moved` by name. */
export function valuesOf<G extends Group>(group: G, moved?: Readonly<Record<string, number>>): Values<G> {
  if (moved !== undefined) return freshValues(group, moved)
  const known = declared.get(group) ?? freshValues(group, {})
  declared.set(group, known)
  return known as Values<G>
}

function freshValues<G extends Group>(group: G, moved: Readonly<Record<string, number>>): Values<G> {
  const entries = Object.entries(group).map(([name, { value }]) => [name, moved[name] ?? value])
  return Object.freeze(Object.fromEntries(entries)) as Values<G>
}

/** Values that replace declared ones, by group and name. */
export type Moved = Readonly<Record<string, Readonly<Record<string, number>>>>
