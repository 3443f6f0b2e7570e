import type { Refusal } from '@trueloop/ground/refusal'
import { z } from 'zod'
import { reamRulesSchema } from '../../plan/index.ts'
import { type Code, refuse } from '../codes.ts'
import type { EntryOf } from '../kinds.ts'

/** What goes into the record with the choice of a clean-up ream: the size, and what it was reckoned from. */

const diameter = z.number().positive()

export const reamChoiceSchema = z.strictObject({
  trueloop: z.literal('ream/1'),
  /** the permitted size that the person chose */
  chosen_mm: diameter,
  /** the size that was proposed; absent where it was proposed to refer */
  next_mm: diameter.optional(),
  /** what the technique said of reaming that day */
  rules: reamRulesSchema,
  /** diameters at every measuring: before the first cut, and after each */
  measured_mm: z.array(z.array(diameter)).min(1),
  /** the arithmetic line by line, as the person had it before their eyes; or why there is none */
  lines: z.array(z.string()).min(1),
  /** every term of the figure, where there is one */
  figure: z.record(z.string(), z.json()).optional()
})

export type ReamChoice = z.output<typeof reamChoiceSchema>

/** The choice that a disposition carries; undefined where it has none, or in another form. */
export function choiceOf(disposed: EntryOf<'disposed'> | undefined): ReamChoice | undefined {
  if (disposed?.disposition !== 'clean-up ream' || disposed.ream === undefined) return undefined
  const read = reamChoiceSchema.safeParse(disposed.ream)
  return read.success ? read.data : undefined
}

/** Refuses `record/no-reason` where another size than the proposed one has none, `record/size-not-permitted`. */
export function choiceComplaint(entry: EntryOf<'disposed'>, name: string): Refusal<Code> | undefined {
  const choice = choiceOf(entry)
  if (choice === undefined) return undefined
  const { chosen_mm: chosen, next_mm: next, rules, measured_mm: measured } = choice
  const largest = Math.max(0, ...(measured.at(-1) ?? []))
  const sizes = rules.permitted_sizes_mm.map(({ diameter_mm }) => diameter_mm)
  if (!sizes.includes(chosen) || chosen <= largest) return notPermitted(choice, name)
  if (chosen === next || entry.reason !== undefined) return undefined
  return refuse('record/no-reason', {
    found: `${chosen} mm chosen for ${name}, ${next === undefined ? 'proposed to refer' : `${next} mm proposed`}, without a reason`,
    needed: 'a reason in words: another size than the proposed one always needs one',
    remedy: 'say why, choose the proposed size, or refer'
  })
}

const notPermitted = ({ chosen_mm, rules, measured_mm }: ReamChoice, name: string): Refusal<Code> =>
  refuse('record/size-not-permitted', {
    found: `${chosen_mm} mm for ${name}, measured ${(measured_mm.at(-1) ?? []).join(' and ') || 'by nobody'} mm`,
    needed: `a larger one of the sizes that the procedure permits: ${rules.permitted_sizes_mm.map((one) => one.diameter_mm).join(', ')} mm`,
    remedy: 'choose a permitted size, or refer'
  })

/** A cut is that which was chosen. */
export function cutComplaint(entry: EntryOf<'reamed'>, disposed: EntryOf<'disposed'>, name: string) {
  const choice = choiceOf(disposed)
  if (choice === undefined || choice.chosen_mm === entry.aimed_mm) return undefined
  return refuse('record/no-ream-chosen', {
    found: `a cut of ${name} aimed at ${entry.aimed_mm} mm, ${choice.chosen_mm} mm chosen`,
    needed: 'the size that a person has chosen',
    remedy: 'correct the size; another one is decided on first, with its reason'
  })
}
