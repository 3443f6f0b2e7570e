import type { Face } from './face.ts'

/** Widths of a text in ems, as a table has to know them before it is set. */
export interface Measured {
  /** the longest word: a line can't be shorter without breaking it */
  readonly word: number
  /** the longest line */
  readonly line: number
}

/**
 * Where a line may end by itself: at a space, behind a hyphen, a dash or a slash before a letter. Not before a closing
 * sign nor behind an opening one. source: uax14, 6.1
 */
const opportunities = /(?<=(?<![\p{Ps}\p{Pi}"'])[ \n])(?=[^\p{Pe}\p{Pf}"'!?,.:;/…])|(?<=[-–—/])(?=\p{L})/u

export const wordsOf = (text: string): readonly string[] => text.split(opportunities)

export function widthOf(face: Face, text: string): number {
  let sum = 0
  for (const character of text) sum += face.advance(character.codePointAt(0) ?? 0)
  return sum
}

export function measured(face: Face, text: string): Measured {
  let [word, line] = [0, 0]
  for (const each of text.split('\n')) {
    line = Math.max(line, widthOf(face, each))
    for (const one of wordsOf(each)) word = Math.max(word, widthOf(face, one.trimEnd()))
  }
  return { word, line }
}

/**
 * A text in pieces between which a line may end, so that no word is wider than `room` ems. One piece where none is;
 * a word is cut behind a sign that joins its parts where there is one, else where the room ends.
 */
export function pieces(face: Face, text: string, room: number): string | readonly string[] {
  const words = text.split('\n').flatMap((line, at) => [...(at > 0 ? ['\n'] : []), ...wordsOf(line)])
  if (words.every((word) => widthOf(face, word.trimEnd()) <= room)) return text
  return words.flatMap((word) => (widthOf(face, word.trimEnd()) <= room ? [word] : cut(face, word, room)))
}

const joint = /[_.:/\\=,;@+-]/

function cut(face: Face, word: string, room: number): readonly string[] {
  const parts: string[] = []
  let [part, width] = ['', 0]
  for (const character of word) {
    const next = face.advance(character.codePointAt(0) ?? 0)
    const isFull = width + next > room
    const isJoint = joint.test(part.at(-1) ?? '') && !joint.test(character) && width > room / 3
    if (part !== '' && (isFull || isJoint)) {
      parts.push(part)
      ;[part, width] = [isApart(part, character) ? '' : zeroWidthSpace, 0]
    }
    part += character
    width += next
  }
  return [...parts, part]
}

/** Where no line may end by itself, not even at a space, a space without width allows it. source: uax14, LB8 */
const zeroWidthSpace = '\u200b'

const isApart = (before: string, character: string): boolean =>
  /[\p{L}\p{N}]/u.test(character) && !/[\p{Ps}\p{Pi}"']$/u.test(before)
