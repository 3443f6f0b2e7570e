import type { Label } from './labels.ts'

export interface Words {
  readonly origins: readonly string[]
  readonly terms: Readonly<Record<string, { readonly origin: readonly string[]; readonly means?: string }>>
  readonly common: readonly string[]
  /** proper names: of the program, of formats */
  readonly names: readonly string[]
  readonly units: readonly string[]
}

/** Letters only: figures and punctuation are no words; a hyphen joins two. */
const split = (text: string): readonly string[] =>
  text
    .replaceAll(/([a-z])([A-Z])/g, '$1 $2')
    .toLowerCase()
    .split(/[^\p{L}\p{M}]+/u)
    .filter((word) => word !== '')

const singular = (word: string): string => word.replace(/ies$/, 'y').replace(/(?<=[a-z]{2})(?<!s)s$/, '')

const key = (words: readonly string[]): string => words.map(singular).join(' ')

export interface Vocabulary {
  readonly known: ReadonlySet<string>
  readonly longest: number
}

export function vocabularyOf({ terms, common, names, units }: Words): Vocabulary {
  const all = [...Object.keys(terms), ...common, ...names, ...units].map(split)
  return { known: new Set(all.map(key)), longest: Math.max(...all.map(({ length }) => length)) }
}

/** Words of a label that no listed term covers, the longest terms tried first. */
export function strangeWords(text: string, { known, longest }: Vocabulary): readonly string[] {
  const words = split(text)
  const strange: string[] = []
  for (let at = 0; at < words.length; ) {
    let length = Math.min(longest, words.length - at)
    while (length > 0 && !known.has(key(words.slice(at, at + length)))) length--
    if (length === 0) strange.push(words[at] ?? '')
    at += Math.max(length, 1)
  }
  return strange
}

/** Labels with a word that is in no list, each as `place: "label": word`. */
export const strangeLabels = (labels: readonly Label[], vocabulary: Vocabulary): readonly string[] =>
  labels.flatMap(({ text, place }) =>
    strangeWords(text, vocabulary).map((word) => `${place}: "${text.trim()}": ${word} is not in house/words.json`)
  )

/** Terms without a proper origin; a word of ours says what it means. */
export const badTerms = ({ terms, origins }: Words): readonly string[] =>
  Object.entries(terms)
    .filter(([, { origin, means }]) => {
      const known = origin.length > 0 && origin.every((one) => origins.includes(one))
      return !known || (origin.includes('ours') && (means ?? '') === '')
    })
    .map(([term]) => term)
