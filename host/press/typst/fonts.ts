import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { type Face, faceOf } from './face.ts'

/** The one family of the print: Source Sans 3, with its figures all of one width, as the package of its maker ships it. */
export const family = 'Source Sans 3'

export interface Fonts {
  readonly files: readonly Buffer[]
  readonly regular: Face
  readonly bold: Face
}

const fileOf = (weight: string): Buffer =>
  readFileSync(createRequire(import.meta.url).resolve(`source-sans/TTF/SourceSans3-${weight}.ttf`))

let loaded: Fonts | undefined

/** The fonts of the print, read once; throws where their package is missing. */
export function fonts(): Fonts {
  if (loaded !== undefined) return loaded
  const [regular, bold] = [fileOf('Regular'), fileOf('Semibold')]
  loaded = { files: [regular, bold], regular: faceOf(regular), bold: faceOf(bold) }
  return loaded
}
