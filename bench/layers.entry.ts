import { readFileSync } from 'node:fs'
import { hertz, meters, siemensPerMeter } from '@trueloop/ground/quantity'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { coaxialProbe, impedanceChange, type LayerProbe } from '@trueloop/metal/fields'

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

function timed<T>(work: () => T): { readonly value: T; readonly seconds: number } {
  const from = process.cpuUsage()
  const value = work()
  const { user, system } = process.cpuUsage(from)
  return { value, seconds: (user + system) / 1e6 }
}

const repeats = Number(process.argv[3])
const middle = (work: () => unknown): number =>
  Array.from({ length: repeats }, () => timed(work).seconds).sort((a, b) => a - b)[Math.floor(repeats / 2)]!

const first = timed(keeping)
const warm = middle(keeping)
console.log(
  JSON.stringify({
    change: first.value,
    points_s: first.seconds,
    warmPoints_s: warm,
    warmAlone_s: middle(alone),
    warmSweep_s: warm
  })
)
