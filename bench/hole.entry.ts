import { readFileSync } from 'node:fs'
import { hertz, meters, siemensPerMeter } from '@trueloop/ground/quantity'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type HoleProbe, holeImpedanceChange, radialProbe } from '@trueloop/metal/fields'
import { sayTimes } from './points-times.ts'

/**
 * `hole.entry POINTS.json REPEATS`: the change of impedance at every point. Processor times, those of the compiler's threads included, of the first pass and the middle of
 * the repeats: `points` and `sweep` plan a coil in its hole once, for all metals and frequencies; `alone` plans it for
 * each point.
 */
interface Point {
  readonly coil: Record<'r1' | 'r2' | 'length' | 'turns' | 'liftOff', number>
  readonly diameter: number
  readonly sigma: number
  readonly mur: number
  readonly f: number
}

const points = JSON.parse(readFileSync(process.argv[2]!, 'utf8')) as readonly Point[]

const must = <T>(value: Result<T>): T => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value
}

const planned = ({ coil: { r1, r2, length, turns, liftOff }, diameter }: Point): HoleProbe =>
  must(
    radialProbe({
      coil: { innerRadius: meters(r1), outerRadius: meters(r2), length: meters(length), turns },
      holeDiameter: meters(diameter),
      liftOff: meters(liftOff)
    })
  )

function changeOf(probe: HoleProbe, { sigma, mur, f }: Point): readonly [number, number] {
  const metal = { conductivity: siemensPerMeter(sigma), permeability: mur }
  const { resistance, reactance } = must(holeImpedanceChange(probe, hertz(f), metal))
  return [resistance, reactance]
}

function keeping(): (readonly [number, number])[] {
  const probes = new Map<string, HoleProbe>()
  return points.map((point) => {
    const key = JSON.stringify([point.coil, point.diameter])
    const probe = probes.get(key) ?? planned(point)
    probes.set(key, probe)
    return changeOf(probe, point)
  })
}

const alone = () => points.map((point) => changeOf(planned(point), point))

sayTimes({ keeping, alone }, Number(process.argv[3]))
