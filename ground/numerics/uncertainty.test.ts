import { describe, expect, it } from 'vitest'
import { isRefusal } from '../refusal/index.ts'
import type { Draws, Input, Measurement } from './index.ts'
import * as n from './index.ts'
import reference from './reference/uncertainty.json' with { type: 'json' }

/** Oracles: the examples of the guides (H.1, H.2, H.3, 9.2), R 4.2.2 with a portable generator, exact convolutions (reference/uncertainty.json). */

const sound = <T>(value: T): Exclude<T, { refused: true }> => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value as Exclude<T, { refused: true }>
}

const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

const near = (got: number, expected: number, at: unknown, within = reference.tolerance): void =>
  expect(Math.abs(got / expected - 1), `${String(at)}: ${got} for ${expected}`).toBeLessThanOrEqual(within)

const normal = (name: string, value: number, uncertainty: number, dof = Number.POSITIVE_INFINITY): Input => ({
  name,
  law: 'normal',
  value,
  uncertainty,
  dof
})

/** Depth d = (A k/C)^(1/m) from an amplitude, a factor of lift-off, and a calibration curve. */
const depth: Measurement = {
  inputs: [
    normal('A', 1.2, 0.05, 9),
    normal('C', 1.8, 0.03, 18),
    normal('m', 0.9, 0.02, 18),
    { name: 'kL', law: 'rectangular', lower: 0.92, upper: 1.08 }
  ],
  correlations: [],
  model: ([a, c, m, k]) => n.pow((a! * k!) / c!, 1 / m!)
}

/** Park and Miller's generator, normal values by cosines, as the reference has them. */
function portable(seed: number): Draws {
  let state = seed
  const uniform = (): number => {
    state = (16807 * state) % 2147483647
    return state / 2147483647
  }
  const normal = (): number => {
    const radius = Math.sqrt(-2 * n.log(uniform()))
    return radius * n.cos(2 * n.PI * uniform())
  }
  return { uniform, normal }
}

const asked = { confidence: 0.95, digits: 2, batch: 10000, fewestBatches: 10, mostBatches: 10 } as const

describe('propagation of uncertainty', () => {
  it('a depth: value, budget, degrees of freedom, factor', () => {
    const got = sound(n.propagate(depth))
    const want = reference.depth
    near(got.value, want.d, 'value')
    near(got.combined, want.u_c, 'combined')
    near(got.dof!, want.effective_dof, 'dof')
    near(sound(n.coverage(got, 0.95)).factor, want.k95, 'factor')
    for (const line of got.budget) {
      const name = line.name as keyof typeof want.sensitivity
      near(line.sensitivity, want.sensitivity[name], name)
      near(line.uncertainty, want.u[name], name)
      near(line.contribution, want.contribution[name], name)
      near(100 * line.share, want.budget_pct[name], name)
    }
  })
  it('correlated inputs: a depth whose curve has them', () => {
    const tied = { ...depth, correlations: [{ between: ['C', 'm'], r: -0.6 }] } as const
    const got = sound(n.propagate(tied))
    near(got.combined, reference.depth['u_c_with_r_C_m_minus0.6'], 'combined')
    expect(got.dof).toBeUndefined()
    expect(code(n.coverage(got, 0.95))).toBe('numerics/dof-undetermined')
  })
  it('H.1: an end gauge, as printed', () => {
    const printed = reference.printed.gauge
    const got = sound(
      n.propagate({
        inputs: [
          normal('standard, mm', 50.000623, 25e-6, 18),
          normal('difference, mm', 215e-6, 5.8e-6, 24),
          normal('comparator, at random, mm', 0, 3.9e-6, 5),
          normal('comparator, systematic, mm', 0, 6.7e-6, 8),
          normal('expansion of the standard, 1/K', 11.5e-6, 1.2e-6),
          normal('difference of expansion, 1/K', 0, 0.58e-6, 50),
          normal('temperature, K', -0.1, 0.41),
          normal('difference of temperature, K', 0, 0.029, 2)
        ],
        correlations: [],
        model: ([s, d, d1, d2, alpha, dAlpha, theta, dTheta]) =>
          s! + d! + d1! + d2! - s! * (dAlpha! * theta! + alpha! * dTheta!)
      })
    )
    expect(got.value.toFixed(6)).toBe(printed.value.toFixed(6))
    expect(Math.round(1e6 * got.combined)).toBe(printed.combined_nm)
    expect(Math.abs(got.dof! - printed.dof)).toBeLessThan(0.1)
    const { factor } = sound(n.coverage({ ...got, dof: Math.floor(got.dof!) }, 0.99))
    expect(factor.toFixed(2)).toBe(printed.factor.toFixed(2))
    expect(Math.abs(1e6 * factor * got.combined - printed.expanded_nm)).toBeLessThan(1)
  })
  it('H.2: resistance, reactance and impedance with correlated readings, as printed', () => {
    const { V, I, phi, r, R, X, Z } = reference.printed.impedance
    const inputs = [normal('V', V[0]!, V[1]!), normal('I', I[0]!, I[1]!), normal('phi', phi[0]!, phi[1]!)]
    const correlations = [
      { between: ['V', 'I'], r: r.VI },
      { between: ['V', 'phi'], r: r.Vphi },
      { between: ['I', 'phi'], r: r.Iphi }
    ] as const
    const models: readonly (readonly [readonly number[], Measurement['model']])[] = [
      [R, ([v, i, p]) => (v! / i!) * n.cos(p!)],
      [X, ([v, i, p]) => (v! / i!) * n.sin(p!)],
      [Z, ([v, i]) => v! / i!]
    ]
    for (const [printed, model] of models) {
      const got = sound(n.propagate({ inputs, correlations, model }))
      expect(Math.abs(got.value - printed[0]!)).toBeLessThan(0.002) // inputs are printed to five or six digits
      expect(Math.abs(got.combined - printed[1]!)).toBeLessThan(0.0015) // correlations to two
    }
  })
  it('H.3: a thermometer read off its line, as printed', () => {
    const { y1, u1, y2, u2, r, at, reference: from, b, u } = reference.printed.thermometer
    const got = sound(
      n.propagate({
        inputs: [normal('intercept', y1, u1), normal('slope', y2, u2)],
        correlations: [{ between: ['intercept', 'slope'], r }],
        model: ([one, two]) => one! + two! * (at - from)
      })
    )
    expect(got.value.toFixed(4)).toBe(b.toFixed(4))
    expect(got.combined.toFixed(4)).toBe(u.toFixed(4))
  })
})

describe('propagation of distributions by draws', () => {
  const want = reference.draws

  it('a depth, draw by draw as the portable generator has it', () => {
    const got = sound(n.monteCarlo(depth, portable(want.seed), asked))
    for (const [i, value] of want.first3.entries()) near(got.first[i]!, value, i)
    expect(got.trials).toBe(want.N)
    near(got.mean, want.mean, 'mean')
    near(got.uncertainty, want.sd, 'uncertainty')
    near(got.symmetric.lower, want.sym95_jcgm101[0]!, 'lower')
    near(got.symmetric.upper, want.sym95_jcgm101[1]!, 'upper')
    near(got.shortest.lower, want.shortest95[0]!, 'shortest')
    near(got.shortest.upper, want.shortest95[1]!, 'shortest')
    near(got.tolerance, want.delta_2digits, 'tolerance')
    near(got.unrest.mean, want.two_s_of_mean, 'unrest')
    near(got.unrest.uncertainty, want.two_s_of_u, 'unrest')
    expect(n.isPropagationValid(sound(n.propagate(depth)), got, 0.95)).toBe(want.guf_vs_mc.validated)
  })

  const sumOf = (inputs: readonly Input[]): Measurement => ({
    inputs,
    correlations: [],
    model: (values) => values.reduce((sum, value) => sum + value, 0)
  })
  const flat = (name: string, sd: number): Input => {
    const half = sd * Math.sqrt(3)
    return { name, law: 'rectangular', lower: -half, upper: half }
  }
  const many = { ...asked, fewestBatches: 2, mostBatches: 400 }

  it('stops when the digits hold; 9.2 of the supplement and its exact values', () => {
    const names = ['a', 'b', 'c', 'd']
    const four = sumOf(names.map((name) => flat(name, 1)))
    const got = sound(n.monteCarlo(four, n.randomFrom('supplement'), { ...many, digits: 1 }))
    expect(got.isSettled).toBe(true)
    expect(got.trials).toBeLessThan(4e5)
    const exact = reference.additive.additive_4_rect_unitvar
    expect(Math.abs(got.symmetric.upper - exact.ci95[1]!)).toBeLessThan(0.1)
    expect(exact.ci95[1]!.toFixed(2)).toBe(reference.printed.supplement.rectangular[1]!.toFixed(2))
    const one = sumOf(names.map((name, i) => flat(name, i === 0 ? 10 : 1)))
    const wide = sound(n.monteCarlo(one, n.randomFrom('supplement'), asked))
    expect(Math.abs(wide.symmetric.upper - reference.additive.additive_rect_dominant.ci95[1]!)).toBeLessThan(0.1)
    near(sound(n.propagate(one)).combined, reference.additive.additive_rect_dominant.u, 'combined')
    expect(n.isPropagationValid(sound(n.propagate(one)), wide, 0.95)).toBe(false)
  })
  it('is the same for a seed, and agrees with the straight propagation of normal inputs', () => {
    const normals = sumOf(['a', 'b', 'c', 'd'].map((name) => normal(name, 0, 1)))
    const run = () => sound(n.monteCarlo(normals, n.randomFrom('seed'), { ...many, digits: 1 }))
    expect(run()).toEqual(run())
    expect(n.isPropagationValid(sound(n.propagate(normals)), run(), 0.95)).toBe(true)
  })
  it('draws correlated normal inputs, triangles and arcs', () => {
    const tied: Measurement = {
      inputs: [
        normal('a', 0, 2),
        { name: 't', law: 'triangular', lower: -1, upper: 1 },
        normal('b', 0, 1),
        { name: 's', law: 'arcsine', lower: -2, upper: 2 }
      ],
      correlations: [{ between: ['a', 'b'], r: -0.8 }],
      model: (values) => values.reduce((sum, value) => sum + value, 0)
    }
    const variance = 4 + 1 - 2 * 0.8 * 2 + 1 / 6 + 2
    near(sound(n.propagate(tied)).combined, Math.sqrt(variance), 'combined')
    const got = sound(n.monteCarlo(tied, n.randomFrom('tied'), asked))
    expect(Math.abs(got.uncertainty / Math.sqrt(variance) - 1)).toBeLessThan(0.01)
  })
  it('refuses what is no measurement', () => {
    const bad = (change: Partial<Measurement>): unknown => n.propagate({ ...depth, ...change })
    expect(code(bad({ inputs: [] }))).toBe('numerics/degenerate')
    expect(code(bad({ inputs: [normal('a', 1, -1)] }))).toBe('numerics/degenerate')
    expect(code(bad({ inputs: [normal('a', 1, 1), normal('a', 1, 1)] }))).toBe('numerics/degenerate')
    expect(code(bad({ correlations: [{ between: ['A', 'A'], r: 1 }] }))).toBe('numerics/degenerate')
    expect(code(bad({ model: () => Number.NaN }))).toBe('numerics/degenerate')
    const run = (change: Partial<Measurement>): unknown =>
      n.monteCarlo({ ...depth, ...change }, n.randomFrom('bad'), asked)
    expect(code(run({ model: ([a]) => n.log(a! - 1.2) }))).toBe('numerics/degenerate')
    expect(code(run({ correlations: [{ between: ['A', 'kL'], r: 0.5 }] }))).toBe('numerics/degenerate')
    const torn = [
      { between: ['A', 'C'], r: 0.9 },
      { between: ['A', 'm'], r: 0.9 },
      { between: ['C', 'm'], r: -0.9 }
    ] as const
    expect(code(run({ correlations: torn }))).toBe('numerics/not-positive-definite')
    expect(() => n.monteCarlo(depth, n.randomFrom('bad'), { ...asked, batch: 10 })).toThrow(RangeError)
  })
})
