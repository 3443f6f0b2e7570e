import type { Refusal } from '@trueloop/ground/refusal'
import { checkConfirming } from './check/confirming.ts'
import { checkDrawings } from './check/drawings.ts'
import { checkMagnetism } from './check/magnetism.ts'
import { doubles, reservedName, unknownName } from './check/names.ts'
import { checkPaper, checkStackUp } from './check/paper.ts'
import { checkPeople } from './check/people.ts'
import { checkPreparation } from './check/preparation.ts'
import { checkProbes } from './check/probe-checks.ts'
import { checkReaming } from './check/reaming.ts'
import { checkRechecks } from './check/rechecks.ts'
import { checkFiles, firstIsReference, unknownSubjects } from './check/recordings.ts'
import { checkDays, checkTimes } from './check/times.ts'
import { checkHandFeed, checkHole, checkPitch, checkStandard } from './check/wall.ts'
import { checkZones } from './check/zones.ts'
import { checkDocuments } from './documents.ts'
import type { HoleSheet, Sheet, WeldSheet } from './sheet.ts'
import { checkWeldPlan } from './weld/check.ts'
import { pathText } from './where.ts'

/**
 * What only the whole sheet shows: names that nothing bears, orders, and places outside the part.
 * Every refusal has its place in `where.path`; an empty list is a sound sheet.
 */
export const checkSheet = (sheet: Sheet): readonly Refusal[] => [
  ...reservedName(sheet.job.id, ['job', 'id']),
  ...checkPeople(sheet),
  ...checkPaper(sheet),
  ...checkDays(sheet),
  ...checkTimes(sheet),
  ...checkFiles(sheet),
  ...checkRechecks(sheet),
  ...checkDrawings(sheet),
  ...('holes' in sheet ? checkHoles(sheet) : []),
  ...('tracks' in sheet ? checkTracks(sheet) : [])
]

function checkHoles(sheet: HoleSheet): readonly Refusal[] {
  const { technique, reference_standard: standard } = sheet
  const notches = standard.notches.map(({ id }) => id)
  const alarm = {
    name: technique.alarm.notch,
    steps: ['technique', 'alarm', 'notch'],
    what: 'reference_standard.notches'
  }
  return [
    ...firstIsReference(sheet),
    ...checkPitch(sheet),
    ...checkHandFeed(sheet),
    ...doubles(
      sheet.holes.map(({ id }) => id),
      (index) => ['holes', index, 'id']
    ),
    ...doubles(notches, (index) => ['reference_standard', 'notches', index, 'id']),
    ...unknownName({ ...alarm, known: new Set(notches), code: 'plan/unknown-notch' }),
    ...sheet.holes.flatMap(checkHole),
    ...checkReaming(sheet),
    ...checkStackUp(sheet),
    ...checkZones(sheet),
    ...checkStandard(standard),
    ...checkMagnetism(sheet),
    ...checkPreparation(sheet),
    ...checkConfirming(sheet),
    ...checkDocuments(sheet),
    ...unknownSubjects(sheet)
  ]
}

function checkTracks(sheet: WeldSheet): readonly Refusal[] {
  const slots = sheet.reference_standard.slots.map(({ id }) => id)
  const alarm = {
    name: sheet.technique.alarm.slot,
    steps: ['technique', 'alarm', 'slot'],
    what: 'reference_standard.slots'
  }
  return [
    ...firstIsReference(sheet),
    ...doubles(
      sheet.tracks.map(({ id }) => id),
      (index) => ['tracks', index, 'id']
    ),
    ...doubles(slots, (index) => ['reference_standard', 'slots', index, 'id']),
    ...unknownName({ ...alarm, known: new Set(slots), code: 'plan/unknown-notch' }),
    ...checkLanes(sheet),
    ...checkProbes(sheet),
    ...unknownSubjects(sheet)
  ]
}

/** What the plan of the weld itself refuses, at its place. */
const checkLanes = ({ technique: { plan } }: WeldSheet): readonly Refusal[] =>
  plan === undefined
    ? []
    : checkWeldPlan(plan).refusals.map((refusal) => ({ ...refusal, where: { path: pathText(['technique', 'plan']) } }))
