import { type Block, cells, list, paragraph, tableOr } from '../blocks.ts'
import type { EntryOf } from '../kinds.ts'
import { moment } from '../print.ts'
import type { JobState, PlaceState } from '../state.ts'
import { choiceOf } from './choice.ts'

/** What a report says of clean-up reaming: the arithmetic of every choice, the cuts, and the metal that they took. */
export const reamingBlocks = ({ places, decisions }: JobState): readonly Block[] => [
  ...decisions.flatMap((one) => (one.kind === 'disposed' ? arithmetic(one) : [])),
  ...cuts(places.filter((place) => place.cuts.length > 0))
]

function arithmetic(one: EntryOf<'disposed'>): readonly Block[] {
  const choice = choiceOf(one)
  if (choice === undefined) return []
  const { of, name } = one.subject
  return [
    paragraph(
      `Clean-up ream of ${of} ${name} to Ø ${choice.chosen_mm} mm, chosen by ${one.by.name}, ${moment(one.at)}:`
    ),
    list(choice.lines)
  ]
}

/** The size that was chosen beside the one that was proposed. */
export function reamText(one: EntryOf<'disposed'>): string {
  const choice = choiceOf(one)
  if (choice === undefined) return one.disposition
  const { chosen_mm: chosen, next_mm: next } = choice
  return `${one.disposition} to Ø ${chosen} mm, proposed: ${next === undefined ? 'refer' : `Ø ${next} mm`}`
}

function cuts(cut: readonly PlaceState[]): readonly Block[] {
  if (cut.length === 0) return []
  const table = {
    caption: 'Reamed',
    columns: ['Place', 'Cuts', 'Diameter before', 'Diameter now', 'Removed', 'Open'].map((label) => ({ label })),
    rows: cut.map((place) => cells(place.place.name, ...cutTexts(place)))
  }
  return [tableOr(table, '')]
}

function cutTexts({ cuts: all, loop, closed }: PlaceState): readonly string[] {
  const { measured_mm = [], removed, open = [] } = loop ?? {}
  return [
    `${all.length}: ${all.map(({ aimed_mm }) => `Ø ${aimed_mm} mm`).join(', ')}`,
    ...[measured_mm[0], measured_mm.at(-1)].map(diameterText),
    removed === undefined ? 'not known' : `${removed.least_mm} to ${removed.most_mm} mm off the diameter`,
    open.length > 0 ? open.join('; ') : closed === undefined ? 'not closed' : 'closed'
  ]
}

const diameterText = (measured: readonly number[] = []): string =>
  measured.length === 0 ? 'not measured' : `${[...measured].reverse().join(' to ')} mm`
