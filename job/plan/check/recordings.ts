import type { Refusal } from '@trueloop/ground/refusal'
import { refuse } from '../codes.ts'
import type { HoleSheet, Sheet, WeldSheet } from '../sheet.ts'
import { pathText } from '../where.ts'
import { unknownName } from './names.ts'

/** Recordings: each a file of its own, of something that the sheet names, the reference standard first. */

/** `a/../b.wav` and `./b.wav` are one file; what differs only by links is found by its content later. */
function plainPath(file: string): string {
  const kept: string[] = []
  for (const part of file.split(/[\\/]+/)) {
    if (part === '..' && kept.length > 0 && kept.at(-1) !== '..') kept.pop()
    else if (part !== '.') kept.push(part)
  }
  return kept.join('/')
}

export function checkFiles(sheet: Sheet): readonly Refusal[] {
  const first = new Map<string, number>()
  return sheet.recordings.flatMap(({ file }, index) => {
    const path = plainPath(file)
    const before = first.get(path)
    if (before === undefined) first.set(path, index)
    return before === undefined ? [] : [fileTwice(path, before, index)]
  })
}

const fileTwice = (file: string, before: number, index: number): Refusal =>
  refuse('plan/file-twice', {
    found: `${file} for recordings[${before}] and again for recordings[${index}]`,
    needed: 'a file of its own for every recording',
    remedy: 'name the file that belongs here, or remove the entry',
    where: { path: pathText(['recordings', index, 'file']) }
  })

export function firstIsReference({ recordings }: HoleSheet | WeldSheet): readonly Refusal[] {
  const [first] = recordings
  if (first === undefined || first.of === 'reference') return []
  return [
    refuse('plan/no-reference-first', {
      found: `a recording of a ${first.of} first`,
      needed: 'a recording of the reference standard before all others',
      remedy: 'begin with the recording `of: reference` that was taken before the work',
      where: { path: 'recordings[0].of' }
    })
  ]
}

export function unknownSubjects(sheet: HoleSheet | WeldSheet): readonly Refusal[] {
  const known = new Set(('holes' in sheet ? sheet.holes : sheet.tracks).map(({ id }) => id))
  return sheet.recordings.flatMap((recording, index) => {
    const steps = (key: string) => ['recordings', index, key]
    if (recording.of === 'hole')
      return unknownName({
        name: recording.hole,
        known,
        code: 'plan/unknown-hole',
        what: 'holes',
        steps: steps('hole')
      })
    if (recording.of !== 'track' && recording.of !== 'parent') return []
    const name = recording.track
    return unknownName({ name, known, code: 'plan/unknown-track', what: 'tracks', steps: steps('track') })
  })
}
