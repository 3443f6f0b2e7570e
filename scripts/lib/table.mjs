/** The closing table of a test run: stages, then all that did not run and why, by name. */

const seconds = (ms) => `${(ms / 1000).toFixed(1)} s`

function row(cells) {
  const [name, ...numbers] = cells.map(String)
  return `  ${name.padEnd(14)}${numbers.map((cell) => cell.padStart(16)).join('')}`
}

const stageRow = ({ name, tally, ms }) =>
  row([name, tally.passed, tally.failed, tally.skipped.length, tally.notApplicable.length, seconds(ms)])

export function closingTable(stages, total) {
  return [
    '',
    row(['stage', 'passed', 'failed', 'skipped', 'not applicable', 'time']),
    ...stages.map(stageRow),
    ...lacking(total.skipped.filter((test) => test.reason !== undefined)),
    ...withoutReason(total.skipped.filter((test) => test.reason === undefined)),
    ...withoutData(total.notApplicable),
    ''
  ]
}

const groups = (tests) => Map.groupBy?.(tests, (test) => test.reason) ?? grouped(tests)

/** Node 20 has no Map.groupBy. */
function grouped(tests) {
  const all = new Map()
  for (const test of tests) all.set(test.reason, [...(all.get(test.reason) ?? []), test])
  return all
}

const files = (tests) => [...new Set(tests.map((test) => test.file))].sort().join(', ')

const counted = (tests) =>
  [...groups(tests)].map(([reason, some]) => `  ${reason.padEnd(28)}${String(some.length).padStart(5)}  ${files(some)}`)

const lacking = (tests) =>
  tests.length === 0
    ? []
    : ['', 'skipped: a tool is missing; one command names them all: npm run outside', ...counted(tests)]

const withoutData = (tests) =>
  tests.length === 0
    ? []
    : ['', 'not applicable: no outside data (TRUELOOP_SHARED names their folder)', ...counted(tests)]

const withoutReason = (tests) =>
  tests.length === 0 ? [] : ['', 'skipped by hand', ...tests.map((test) => `  ${test.file}: ${test.name}`)]
