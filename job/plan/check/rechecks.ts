import type { Refusal } from '@trueloop/ground/refusal'
import { refuse } from '../codes.ts'
import type { Sheet } from '../sheet.ts'
import { pathText } from '../where.ts'
import { unknownName } from './names.ts'

/** What recordings have to say so that the rules of rechecks can be kept: who took them, and when. */
export const checkRechecks = (sheet: Sheet): readonly Refusal[] => [...takenByWhom(sheet), ...withoutTime(sheet)]

function takenByWhom({ recordings, people }: Sheet): readonly Refusal[] {
  const known = new Set(people.map(({ name }) => name))
  return recordings.flatMap(({ examined_by: name }, index) => {
    if (name === undefined) return []
    const steps = ['recordings', index, 'examined_by']
    return unknownName({ name, known, code: 'plan/unknown-person', what: 'people', steps })
  })
}

/** An interval that nobody can count is not kept. */
function withoutTime({ technique, recordings }: Sheet): readonly Refusal[] {
  const interval = 'rechecks' in technique ? technique.rechecks?.interval_min : undefined
  if (interval === undefined) return []
  return recordings.flatMap(({ taken, file }, index) => (taken === undefined ? [noTime(file, index, interval)] : []))
}

const noTime = (file: string, index: number, interval_min: number): Refusal =>
  refuse('plan/missing-value', {
    found: `no time for ${file}`,
    needed: `when it was taken: the technique asks for a recheck every ${interval_min} min`,
    remedy: 'add `taken`, as 2026-03-14T09:30:00',
    where: { path: pathText(['recordings', index]) }
  })
