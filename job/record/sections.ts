import type { Section } from './report-input.ts'
import { chain } from './sections/chain.ts'
import { coverage } from './sections/coverage.ts'
import { decisionsSection } from './sections/decisions.ts'
import { findingsSection } from './sections/findings.ts'
import { holeMapSection } from './sections/hole-map.ts'
import { identification } from './sections/identification.ts'
import { joinedSection } from './sections/joined.ts'
import { limitations } from './sections/limitations.ts'
import { notExamined } from './sections/not-examined.ts'
import { placesSection } from './sections/places.ts'
import { practiceSection } from './sections/practice.ts'
import { preparation } from './sections/preparation.ts'
import { probeFitness } from './sections/probe-fitness.ts'
import { rechecks } from './sections/rechecks.ts'
import { recordings } from './sections/recordings.ts'
import { standardizationSection } from './sections/standardization.ts'
import { summary } from './sections/summary.ts'
import { techniqueSection } from './sections/technique.ts'
import { weldMap } from './sections/weld-map.ts'
import { weldPlanSection } from './sections/weld-plan.ts'

/** The sections of a report, in their order. A new one is a file and a line here. */
export const sections: readonly Section[] = [
  identification,
  notExamined,
  limitations,
  techniqueSection,
  weldPlanSection,
  probeFitness,
  preparation,
  standardizationSection,
  rechecks,
  holeMapSection,
  weldMap,
  summary,
  decisionsSection,
  joinedSection,
  findingsSection,
  placesSection,
  coverage,
  recordings,
  practiceSection,
  chain
]
