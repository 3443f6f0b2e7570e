/**
 * npm test: types, lint, house, unit and property, doors, outside readers. Installs no system package.
 * `npm test -- house unit` runs only the stages named. TRUELOOP_ALL=1 makes a missing tool a failure.
 */
import { endOnSignals } from './lib/child.mjs'
import { main, setUp } from './lib/setup.mjs'
import { stages } from './lib/stages.mjs'
import { closingTable } from './lib/table.mjs'
import { lastLine, oneCheck, sum } from './lib/tally.mjs'

async function timed({ name, work }) {
  console.log(`\n== ${name}`)
  const from = performance.now()
  const tally = await work().catch(failed)
  const ms = performance.now() - from
  console.log(`== ${name}: ${lastLine(tally)}, ${(ms / 1000).toFixed(1)} s`)
  return { name, tally, ms }
}

function failed(error) {
  console.error(error)
  return oneCheck(false)
}

function chosen(names) {
  const unknown = names.filter((name) => !stages.some((stage) => stage.name === name))
  if (unknown.length > 0)
    console.error(`no stage ${unknown.join(', ')}; there are ${stages.map(({ name }) => name).join(', ')}`)
  return { unknown, some: names.length === 0 ? stages : stages.filter((stage) => names.includes(stage.name)) }
}

endOnSignals()
await main(async () => {
  const { unknown, some } = chosen(process.argv.slice(2))
  if (unknown.length > 0) return 64
  await setUp()
  const done = []
  for (const stage of some) done.push(await timed(stage))
  const total = sum(done.map(({ tally }) => tally))
  console.log(closingTable(done, total).join('\n'))
  console.log(lastLine(total))
  return total.failed === 0 ? 0 : 1
})
