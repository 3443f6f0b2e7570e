import { type Block, cells, heading } from '../../../record/index.ts'
import { limits, mm, percent } from '../../report/words.ts'
import type { DemonstrationOutcome } from '../judge.ts'
import type { PlannedDemonstration } from '../plan.ts'

/** A demonstration as it was planned, and its outcome once there is one. */
export const demonstrationBlocks = (
  planned: PlannedDemonstration,
  outcome?: DemonstrationOutcome
): readonly Block[] => [
  heading(1, 'Demonstration by counting'),
  outcome === undefined ? notYet(planned) : verdictOf(planned, outcome),
  heading(2, 'Plan'),
  { block: 'facts', facts: planFacts(planned) },
  heading(2, 'Chance that such a trial passes'),
  {
    ...{ block: 'table', caption: 'What the technique truly finds, and the chance that the trial shows it' },
    columns: [
      { label: 'True chance of a hit', figures: true },
      { label: 'Chance of passing', figures: true }
    ],
    rows: planned.passing.map(({ trueShare, chance }) => cells(percent(trueShare, 1), percent(chance, 1)))
  },
  heading(2, 'Limitations and cautions'),
  limits([
    'It shows nothing of flaws smaller than the stated size, and of larger ones only if larger flaws are not harder to find.',
    'A trial that did not demonstrate stands. More flaws are never added to it.'
  ])
]

const goal = ({ plan }: PlannedDemonstration): string =>
  `${percent(plan.share)} of flaws of ${mm(plan.largest_m)} found, with ${percent(plan.confidence)} confidence`

const notYet = (planned: PlannedDemonstration): Block => ({
  ...{ block: 'caution', tone: 'warning', title: 'Planned, nothing demonstrated yet' },
  text: `To be demonstrated: ${goal(planned)}. ${planned.plan.trials} flaws, at most ${planned.plan.misses} missed.`
})

function verdictOf(planned: PlannedDemonstration, { verdict, hits, examined, lower }: DemonstrationOutcome): Block {
  const shown = lower === undefined ? '' : ` At least ${percent(lower, 2)} with the confidence asked.`
  return verdict === 'demonstrated'
    ? {
        ...{ block: 'caution', tone: 'note', title: `Demonstrated: ${goal(planned)}` },
        text: `${hits} of ${examined} found.${shown}`
      }
    : {
        ...{ block: 'caution', tone: 'warning', title: 'Not demonstrated' },
        text: `${hits} of ${examined} found, where ${planned.plan.misses} may be missed.${shown}`
      }
}

const planFacts = ({ plan, sha256, shown, byLuck }: PlannedDemonstration) => [
  { label: 'Trial', value: plan.name },
  { label: 'Technique', value: plan.technique },
  { label: 'Conditions', value: plan.conditions },
  { label: 'Flaws', value: `${plan.trials}, from ${mm(plan.smallest_m)} to ${mm(plan.largest_m)}` },
  { label: 'Misses allowed', value: `${plan.misses}`, known: `then ${percent(shown, 2)} is shown` },
  {
    label: 'By luck',
    value: percent(byLuck, 1),
    known: 'chance that a technique just at the share passes this trial or an earlier one'
  },
  ...(plan.changed === undefined ? [] : [{ label: 'Changed since', value: plan.changed }]),
  { label: 'Plan', value: sha256, known: 'hash' }
]
