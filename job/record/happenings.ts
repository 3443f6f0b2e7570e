import type { Happening } from './brackets.ts'
import { type Holding, ofKind } from './corrections.ts'

/** The recordings of a job in their order, each as what it did to the set-up or as a scan that relies on it. */
export function happeningsOf(all: readonly Holding[]): readonly Happening[] {
  const kept = ofKind(all, 'recording-kept')
  const facts = factsOf(all)
  return kept.flatMap(({ sha256 }) => happening(sha256, facts))
}

interface Facts {
  /** standardization -> the reference recording it was made from */
  readonly setUps: ReadonlyMap<string, string>
  readonly references: ReadonlySet<string>
  readonly checks: ReadonlyMap<string, { readonly passed: boolean; readonly standardization: string }>
  readonly scans: ReadonlyMap<string, string>
}

function factsOf(all: readonly Holding[]): Facts {
  const made = ofKind(all, 'standardized')
  const checks = new Map<string, { readonly passed: boolean; readonly standardization: string }>()
  for (const { recording, passed, standardization } of ofKind(all, 'recheck')) {
    // judged again, it passes only if it never failed
    checks.set(recording, { standardization, passed: passed && checks.get(recording)?.passed !== false })
  }
  return {
    setUps: new Map(made.map(({ standardization, recording }) => [standardization, recording])),
    references: new Set(made.map(({ recording }) => recording)),
    checks,
    scans: new Map(ofKind(all, 'examined').map((one) => [one.recording, one.standardization]))
  }
}

function happening(recording: string, { setUps, references, checks, scans }: Facts): readonly Happening[] {
  const setUpOf = (standardization: string) => setUps.get(standardization) ?? standardization
  const check = checks.get(recording)
  if (check !== undefined) {
    return [{ what: check.passed ? 'passed' : 'failed', recording, setUp: setUpOf(check.standardization) }]
  }
  if (references.has(recording)) return [{ what: 'reference', recording, setUp: recording }]
  const used = scans.get(recording)
  return used === undefined || used === 'none' ? [] : [{ what: 'scan', recording, setUp: setUpOf(used) }]
}
