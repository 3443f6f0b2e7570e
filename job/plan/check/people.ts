import type { Refusal } from '@trueloop/ground/refusal'
import { refuse } from '../codes.ts'
import type { Sheet } from '../sheet.ts'
import { doubles, unknownName } from './names.ts'

/** Who examines, who confirms. */

/** An unconfirmed technique can't be examined with: plan/not-confirmed. Planning and scanning may go on. */
export function checkConfirmed(sheet: Sheet): Refusal | undefined {
  const { proposed = [] } = sheet.technique
  if (sheet.confirmed !== undefined && proposed.length === 0) return undefined
  if (sheet.confirmed !== undefined) return stillProposed(proposed)
  return refuse('plan/not-confirmed', {
    found: 'a technique that nobody has confirmed',
    needed: 'the name, level and day of the person who confirms it',
    remedy: 'let that person add `confirmed: { by, level, on }` to the job sheet',
    where: { path: 'confirmed' }
  })
}

/** A word in the sheet does not confirm what was proposed; a signed approval of the technique does. */
const stillProposed = (proposed: readonly string[]): Refusal =>
  refuse('plan/not-confirmed', {
    found: `values that were proposed and that nobody has signed for: ${proposed.join(', ')}`,
    needed: 'the signed approval of the named Level III, or values taken from the procedure',
    remedy:
      'let that person approve the technique with their key; or state the values of the procedure and take the keys out of `proposed`',
    where: { path: 'technique.proposed' }
  })

export const checkPeople = (sheet: Sheet): readonly Refusal[] => [
  ...doubles(
    sheet.people.map(({ name }) => name),
    (index) => ['people', index, 'name']
  ),
  ...unknownName({
    name: sheet.examined_by,
    known: new Set(sheet.people.map(({ name }) => name)),
    code: 'plan/unknown-person',
    what: 'people',
    steps: ['examined_by']
  }),
  ...checkLevel(sheet)
]

function checkLevel({ confirmed, people }: Sheet): readonly Refusal[] {
  const person = people.find(({ name }) => name === confirmed?.by)
  if (confirmed === undefined || person === undefined || person.level === confirmed.level) return []
  return [
    refuse('plan/bad-value', {
      found: `level ${confirmed.level} for ${confirmed.by}, who has level ${person.level} under people`,
      needed: 'one level for one person',
      remedy: 'correct the one that is wrong',
      where: { path: 'confirmed.level' }
    })
  ]
}
