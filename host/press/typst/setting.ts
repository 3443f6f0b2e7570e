import type { Face } from './face.ts'
import { type Fonts, fonts } from './fonts.ts'
import { pieces } from './measure.ts'
import { type Shower, shower } from './shown.ts'

/** A text of the print: one string, or pieces between which a line may end. */
export type Text = string | { readonly pieces: readonly string[] }

export interface Setting extends Shower {
  readonly fonts: Fonts
  /** a text as it is printed in lines of `room` ems */
  readonly text: (text: string, room: number, face?: Face) => Text
  /** number of a symbol among those of the print: many rows share a few */
  readonly symbol: (svg: string) => number
  readonly symbols: () => readonly string[]
}

/** Width of what is printed on a page: A4 less margins of 16 mm, in points. */
export const inner = 504.5

/** Between two columns, in points. */
export const gap = 8

export const bodySize = 9.5

export function newSetting(): Setting {
  const all = fonts()
  const words = shower(all)
  const symbols = new Map<string, number>()
  return {
    ...words,
    fonts: all,
    symbol: (svg) => symbols.get(svg) ?? symbols.set(svg, symbols.size).size - 1,
    symbols: () => [...symbols.keys()],
    text: (text, room, face = all.bold) => {
      const cut = pieces(face, words.show(text), room)
      return typeof cut === 'string' ? cut : { pieces: cut }
    }
  }
}
