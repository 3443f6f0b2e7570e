/** What a test run amounts to: counts, and the names of all that did not run, by reason. */
import { relative } from 'node:path'
import { root } from './places.mjs'

export const emptyTally = () => ({ passed: 0, failed: 0, skipped: [], notApplicable: [] })

/** One check that is no Vitest test (types, lint) counts as one. */
export const oneCheck = (good) => ({ ...emptyTally(), passed: good ? 1 : 0, failed: good ? 0 : 1 })

export const sum = (tallies) =>
  tallies.reduce(
    (all, one) => ({
      passed: all.passed + one.passed,
      failed: all.failed + one.failed,
      skipped: [...all.skipped, ...one.skipped],
      notApplicable: [...all.notApplicable, ...one.notApplicable]
    }),
    emptyTally()
  )

const marked = (kind, name) => name.match(new RegExp(`\\{${kind}: ([^}]+)\\}`))?.[1]

/**
 * Vitest's JSON report -> tally. A file that could not be collected has no tests and counts as one failure;
 * so does a run that failed outside any test, or that left no report (`report` undefined).
 */
export function tallyOf(report, exitCode) {
  if (report === undefined) return oneCheck(false)
  const tally = sum(report.testResults.map(ofFile))
  return exitCode !== 0 && tally.failed === 0 ? { ...tally, failed: 1 } : tally
}

function ofFile(result) {
  const file = relative(root, result.name)
  const tally = sum(result.assertionResults.map((test) => ofTest(test, file)))
  return result.status === 'failed' && tally.failed === 0 ? { ...tally, failed: 1 } : tally
}

function ofTest({ status, ancestorTitles, title }, file) {
  if (status === 'passed' || status === 'failed') return oneCheck(status === 'passed')
  const name = [...ancestorTitles, title].join(' > ')
  const outside = marked('outside', name)
  if (outside !== undefined) return { ...emptyTally(), notApplicable: [{ file, name, reason: outside }] }
  return { ...emptyTally(), skipped: [{ file, name, reason: marked('needs', name) }] }
}

/** The line that stands alone at the end of a run. */
export const lastLine = ({ passed, failed, skipped }) => `${passed} passed, ${failed} failed, ${skipped.length} skipped`
