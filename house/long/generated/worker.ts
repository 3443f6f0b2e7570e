/** One set-up's part of a generated trial as lines of JSON on standard output: NAME SETUP [HOLES]. */
import type { TrialName } from '../../../job/rehearse/index.ts'
import { rowsOfSetup } from './index.ts'

const [name, setup, holes] = process.argv.slice(2)
for (const row of rowsOfSetup(name as TrialName, Number(setup), holes === undefined ? undefined : Number(holes)))
  process.stdout.write(`${JSON.stringify(row)}\n`)
