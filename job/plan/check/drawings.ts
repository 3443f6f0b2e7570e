import type { Refusal } from '@trueloop/ground/refusal'
import { refuse } from '../codes.ts'
import type { Sheet } from '../sheet.ts'
import { pathText } from '../where.ts'
import { doubles, unknownName } from './names.ts'

/** Drawings: each a file of its own, with places that the sheet names, each once on it. */
export const checkDrawings = (sheet: Sheet): readonly Refusal[] => {
  const drawings = sheet.drawings ?? []
  const known = new Set(namesOf(sheet))
  return [
    ...drawings.flatMap(({ file }, at) => {
      const before = drawings.findIndex((one) => one.file === file)
      return before === at ? [] : [drawingTwice(file, before, at)]
    }),
    ...drawings.flatMap(({ places }, at) => {
      const steps = (index: number) => ['drawings', at, 'places', index, 'name']
      const unknown = places.flatMap(({ name }, index) =>
        unknownName({ name, known, code: 'plan/unknown-place', what: 'places of the job', steps: steps(index) })
      )
      return [
        ...unknown,
        ...doubles(
          places.map(({ name }) => name),
          steps
        )
      ]
    })
  ]
}

function namesOf(sheet: Sheet): readonly string[] {
  if ('holes' in sheet) return sheet.holes.map(({ id }) => id)
  if ('tracks' in sheet) return sheet.tracks.map(({ id }) => id)
  return sheet.recordings.map(({ place }) => place)
}

const drawingTwice = (file: string, before: number, at: number): Refusal =>
  refuse('plan/file-twice', {
    found: `${file} for drawings[${before}] and again for drawings[${at}]`,
    needed: 'a file of its own for every drawing',
    remedy: 'name the file that belongs here, or put all places into one entry',
    where: { path: pathText(['drawings', at, 'file']) }
  })
