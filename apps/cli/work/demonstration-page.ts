import { program } from '@trueloop/host/chain'
import type { CapabilityPage } from '@trueloop/host/press'
import { type DemonstrationOutcome, demonstrationBlocks, type PlannedDemonstration } from '@trueloop/job/prove'

/** A demonstration as a page, planned or with its outcome. */
export const demonstrationPage = (planned: PlannedDemonstration, outcome?: DemonstrationOutcome): CapabilityPage => ({
  ...{ name: planned.plan.name, blocks: demonstrationBlocks(planned, outcome) },
  origin: `plan ${planned.sha256.slice(0, 12)} · ${program.name} ${program.version}`,
  ...(planned.plan.flaws_are === 'real' ? {} : { stamp: 'No real flaws: proves no technique' }),
  result: { planned, ...(outcome === undefined ? {} : { outcome }) }
})
