/**
 * Our side of the comparison, as a bundle of its own: `node examine.mjs SETUP.json REF.wav SCAN.wav …` prints one JSON
 * line. The clock runs as in the peer: standardization before it, reading and examining every scan within.
 */
import { readFileSync } from 'node:fs'
import { examinerFor, type TrialSetup } from './examine.adapter.ts'

const [setupPath = '', referencePath = '', ...scans] = process.argv.slice(2)
const setup = JSON.parse(readFileSync(setupPath, 'utf8')) as TrialSetup
const examiner = examinerFor(readFileSync(referencePath), setup)
const from = performance.now()
const files = scans.map((path) => examiner(readFileSync(path)))
const seconds = (performance.now() - from) / 1000
console.log(JSON.stringify({ seconds, files }))
