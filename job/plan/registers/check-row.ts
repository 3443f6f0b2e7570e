import type { Refusal } from '@trueloop/ground/refusal'
import { daysFrom, isDay } from '../calendar.ts'
import { refuse } from '../codes.ts'
import { pathText, type Step } from '../where.ts'
import type { RowDay, Span } from './register.ts'
import { type RegisterRow, type RowOf, spansOfRow } from './rows.ts'

/**
 * What only the whole row shows: days that no calendar has, a time that ends before it begins, notches without their
 * uncertainty. Refuses plan/bad-value, plan/dates-out-of-order, plan/unknown-notch, plan/double-name, plan/missing-value.
 */
export function checkRow(row: RegisterRow, at: readonly Step[] = []): readonly Refusal[] {
  const days = daysOf(row).flatMap((one) => noSuchDay(one, at))
  if (days.length > 0) return days
  return [
    ...spansOfRow(row).flatMap((span) => reversed(span, at)),
    ...(row.register === 'reference standard' ? notches(row, at) : []),
    ...(row.register === 'probe' ? upsideDown(row, at) : [])
  ]
}

const daysOf = (row: RegisterRow): readonly RowDay[] => [
  ...spansOfRow(row).flatMap(({ from, until, ends }) => [from, until, ends].filter((one) => one !== undefined)),
  ...(row.register === 'procedure' ? [{ steps: ['approved', 'on'], day: row.approved.on }] : [])
]

const noSuchDay = ({ day, steps }: RowDay, at: readonly Step[]): readonly Refusal[] =>
  isDay(day)
    ? []
    : [
        refuse('plan/bad-value', {
          found: `${day}, which no calendar has`,
          needed: 'a day of the calendar',
          remedy: 'correct the day',
          where: { path: pathText([...at, ...steps]) }
        })
      ]

function reversed({ of, from, until, ends }: Span, at: readonly Step[]): readonly Refusal[] {
  if (from === undefined) return []
  const lasts = [until, ends].filter((one) => one !== undefined)
  return lasts.filter(({ day }) => daysFrom(from.day, day) < 0).map((last) => endsBefore(of, from, { last, at }))
}

const endsBefore = (of: string, from: RowDay, { last, at }: { readonly last: RowDay; readonly at: readonly Step[] }) =>
  refuse('plan/dates-out-of-order', {
    found: `${last.day} as the end of ${of}, which begins on ${from.day}`,
    needed: 'an end on or after the beginning',
    remedy: 'correct the one of the two that is wrong',
    where: { path: pathText([...at, ...last.steps]) }
  })

function notches({ standard, notch_uncertainty }: RowOf<'reference standard'>, at: readonly Step[]) {
  const known = ('notches' in standard ? standard.notches : standard.slots).map(({ id }) => id)
  const stated = notch_uncertainty.map(({ id }) => id)
  const steps = (index: number) => [...at, 'notch_uncertainty', index, 'id']
  return [
    ...stated.flatMap((id, index) => (known.includes(id) ? [] : [strange(id, known, steps(index))])),
    ...stated.flatMap((id, index) => (stated.indexOf(id) < index ? [again(id, steps(index))] : [])),
    ...known.filter((id) => !stated.includes(id)).map((id) => unstated(id, [...at, 'notch_uncertainty']))
  ]
}

const strange = (id: string, known: readonly string[], steps: readonly Step[]): Refusal =>
  refuse('plan/unknown-notch', {
    found: `"${id}"`,
    needed: `a notch or slot of this standard: ${known.join(', ')}`,
    remedy: 'correct the name',
    where: { path: pathText(steps) }
  })

const again = (id: string, steps: readonly Step[]): Refusal =>
  refuse('plan/double-name', {
    found: `the name "${id}" again`,
    needed: 'one uncertainty for each notch or slot',
    remedy: 'remove one of the two',
    where: { path: pathText(steps) }
  })

const unstated = (id: string, steps: readonly Step[]): Refusal =>
  refuse('plan/missing-value', {
    found: `no uncertainty of "${id}"`,
    needed: 'the uncertainty of every notch or slot, as the certificate states it',
    remedy: `add { id: ${id}, uncertainty_mm: … }`,
    where: { path: pathText(steps) }
  })

function upsideDown({ coil }: RowOf<'probe'>, at: readonly Step[]): readonly Refusal[] {
  const { least, most } = coil.frequency_kHz
  if (least <= most) return []
  return [
    refuse('plan/bad-value', {
      found: `${least} to ${most}`,
      needed: 'a range from its smaller to its larger value',
      remedy: 'exchange least and most',
      where: { path: pathText([...at, 'coil', 'frequency_kHz']) }
    })
  ]
}
