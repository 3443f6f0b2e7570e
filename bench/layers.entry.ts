import { readFileSync } from 'node:fs'
import { hertz, meters, siemensPerMeter } from '@trueloop/ground/quantity'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { coaxialProbe, impedanceChange, type LayerProbe } from '@trueloop/metal/fields'
import { sayTimes } from './points-times.ts'

/**
 * `layers.entry POINTS.json REPEATS`: the change of impedance at every point. Processor times, those of the compiler's threads included, of the first pass and the middle of
 * the repeats: `points` and `sweep` plan a coil at its lift-off once, for all its points; `alone` plans it for each.
 */
interface Point {
  readonly coil: Record<'r1' | 'r2' | 'length' | 'turns' | 'liftOff', number>
  readonly layers: readonly { readonly sigma: number; readonly mur: number; readonly thickness: number | null }[]
  readonly f: number
}

const points = JSON.parse(readFileSync(process.argv[2]!, 'utf8')) as readonly Point[]

const must = <T>(value: Result<T>): T => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value
}

const planned = ({ coil: { r1, r2, length, turns, liftOff } }: Point): LayerProbe =>
  must(
    coaxialProbe({
      coil: { innerRadius: meters(r1), outerRadius: meters(r2), length: meters(length), turns },
      liftOff: meters(liftOff)
    })
  )

function changeOf(probe: LayerProbe, { layers, f }: Point): readonly [number, number] {
  const stack = layers.map(({ sigma, mur, thickness }) => ({
    conductivity: siemensPerMeter(sigma),
    permeability: mur,
    thickness: thickness === null ? ('infinite' as const) : meters(thickness)
  }))
  const { resistance, reactance } = must(impedanceChange(probe, hertz(f), stack))
  return [resistance, reactance]
}

function keeping(): (readonly [number, number])[] {
  const probes = new Map<string, LayerProbe>()
  return points.map((point) => {
    const key = JSON.stringify(point.coil)
    const probe = probes.get(key) ?? planned(point)
    probes.set(key, probe)
    return changeOf(probe, point)
  })
}

const alone = () => points.map((point) => changeOf(planned(point), point))

sayTimes({ keeping, alone }, Number(process.argv[3]))
