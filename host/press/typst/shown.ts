import type { Fonts } from './fonts.ts'

/** Text as the fonts can show it. */
export interface Shower {
  /** the text, with `[U+…]` in place of each character that can't be shown */
  readonly show: (text: string) => string
  /** the same for a drawing, whose markup is plain ASCII and stays as it is */
  readonly drawing: (svg: string) => string
  /** how many characters could not be shown so far */
  readonly missed: () => number
}

/**
 * Says which text is printed. Nothing is left out without a sign: a character that the fonts lack, or that has no shape
 * of its own (a control, a mark that joins another, a change of direction), is printed as its number.
 */
export function shower({ regular, bold }: Fonts): Shower {
  let missed = 0
  const known = new Map<string, string>()
  const one = (character: string): string => {
    const before = known.get(character)
    const shown = before ?? shownOf(character)
    if (before === undefined) known.set(character, shown)
    if (shown !== character && shown.startsWith('[')) missed++
    return shown
  }
  const shownOf = (character: string): string => {
    const code = character.codePointAt(0) ?? 0
    if (character === '\n') return character
    if (isSpace.test(character)) return ' '
    const isThere = !shapeless.test(character) && regular.has(code) && bold.has(code)
    return isThere ? character : `[U+${code.toString(16).toUpperCase().padStart(4, '0')}]`
  }
  const all = (text: string): string =>
    plain.test(text)
      ? text
      : text
          .replaceAll('\r\n', '\n')
          .normalize('NFC')
          .replaceAll(/[^ -~]/gu, one)
  return { show: all, drawing: all, missed: () => missed }
}

const plain = /^[ -~]*$/

/** Spaces of any width but those that must not be broken at. */
const isSpace = /[\t\u2000-\u200a\u205f\u3000]/

/** Controls, formats, private use, what is assigned to nothing, halves of a pair, joining marks, line separators. */
const shapeless = /[\p{C}\p{M}\p{Zl}\p{Zp}]/u
