import { hertz, meters, siemensPerMeter } from '@trueloop/ground/quantity'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type CrackInPart, crackAnswer, planCrack } from '@trueloop/metal/fields'
import { incidentField } from '../metal/fields/crack/incident.ts'

/**
 * `crack.entry REPEATS`: the scan of TEAM 15, problem 1, at 37 places with 40 by 20 cells. Times of the first scan and
 * the middle of the repeats; `system` is what is not the field of the coil: tables, matrix, factors, all solutions.
 */
const part: CrackInPart = {
  crack: { outline: 'rectangle', length: meters(12.6e-3), depth: meters(5e-3), opening: meters(0.28e-3) },
  metal: { conductivity: siemensPerMeter(30.6e6), permeability: 1 },
  thickness: meters(12.22e-3),
  frequency: hertz(900),
  cells: { along: 40, deep: 20 }
}
const winding = {
  innerRadius: meters(6.15e-3),
  outerRadius: meters(12.4e-3),
  length: meters(6.15e-3),
  turns: 3790
}
const coil = { coil: winding, liftOff: meters(0.88e-3) }
const places = Array.from({ length: 37 }, (_, i) => ({ across: meters(0), along: meters(0.75e-3 * i) }))

const must = <T>(value: Result<T>): T => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value
}
const seconds = () => performance.now() / 1000

function once() {
  const start = seconds()
  const plan = must(planCrack(part))
  const { signals } = must(crackAnswer(plan, coil, places))
  const scan_s = seconds() - start
  // The field is computed once more, outside of the time of the scan, to be known by itself.
  const from = seconds()
  incidentField(plan, coil, places)
  return { signals, scan_s, system_s: scan_s - (seconds() - from) }
}

const middle = (values: readonly number[]) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]

const first = once()
const repeats = Array.from({ length: Number(process.argv[2]) }, once)
console.log(
  JSON.stringify({
    change: first.signals.map(({ change }) => [change.resistance, change.reactance]),
    scan_s: first.scan_s,
    system_s: first.system_s,
    warmScan_s: middle(repeats.map(({ scan_s }) => scan_s)),
    warmSystem_s: middle(repeats.map(({ system_s }) => system_s))
  })
)
