import { isRefusal } from '@trueloop/ground/refusal'
import { type Material, materialNamed, materials } from '@trueloop/metal/materials'

/**
 * Whether a metal is ferromagnetic, as far as its name tells. `grade decides`: a family with members of both kinds (most
 * stainless steels). `unknown`: a name that says nothing to this program; nothing is concluded from it.
 */
export type Magnetism = 'ferromagnetic' | 'not ferromagnetic' | 'grade decides' | 'unknown'

/**
 * Relative permeability from which a metal counts as ferromagnetic: far above the 1.0 to 1.1 of austenitic metals, far
 * below the 50 and more of every ferromagnetic row of the table.
 */
const LEAST_PERMEABILITY = 2

/** Families and grades that the table has no row for, the most particular first. Common knowledge, from memory. */
const FAMILIES: readonly (readonly [RegExp, Magnetism])[] = [
  [
    /\b(17-4|15-5|17-7|13-8)(ph)?\b|\b4(03|10|16|20|22|30|31|40)[a-f]?\b|martensitic|ferritic|maraging/,
    'ferromagnetic'
  ],
  [/\b(41[345]0|43(30|35|40)m?|86[34]0|8740|9310|300m|d6ac)\b/, 'ferromagnetic'],
  [/austenitic/, 'not ferromagnetic'],
  [/stainless|\bcres\b/, 'grade decides'],
  [/steel|\biron\b/, 'ferromagnetic'],
  [/alumin|titan|\bti-|magnesium|copper|brass|bronze|silver|\bgold\b|inconel/, 'not ferromagnetic'],
  [/nickel|cobalt/, 'grade decides']
]

/** Reads the name of a metal: a row of the table by its whole name or as part of it, else the family it names. */
export function magnetismOf(name: string): Magnetism {
  const row = rowOf(name)
  if (row !== undefined) return magnetismOfRow(row)
  const plain = name.toLowerCase()
  return FAMILIES.find(([family]) => family.test(plain))?.[1] ?? 'unknown'
}

/** The row of the table that the name of a metal means: by its whole name, or by a grade with a figure in it. */
export function rowOf(name: string): Material | undefined {
  const whole = materialNamed(name)
  if (!isRefusal(whole)) return whole
  const words = padded(name)
  const within = materials.filter((row) => /\d/.test(row.name) && words.includes(padded(row.name)))
  return within.sort((a, b) => b.name.length - a.name.length)[0]
}

const padded = (name: string): string =>
  ` ${name
    .toLowerCase()
    .replaceAll(/[\s,;()]+/g, ' ')
    .trim()} `

const magnetismOfRow = ({ permeability: { value, low } }: Material): Magnetism =>
  (value ?? low ?? 1) >= LEAST_PERMEABILITY ? 'ferromagnetic' : 'not ferromagnetic'
