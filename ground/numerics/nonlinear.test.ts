import { describe, expect, it } from 'vitest'
import { isRefusal } from '../refusal/index.ts'
import { leastSquares } from './least-squares.ts'
import { fitNonlinear } from './nonlinear/fit.ts'
import type { Model } from './nonlinear/place.ts'
import reference from './reference/nonlinear.json' with { type: 'json' }

/** Oracle: certified values of NIST (reference/nonlinear.json); linear least squares; differences of the models. */

type Case = (typeof reference.cases)[number]

/** Value and derivatives at one x. */
type Curve = (x: readonly number[], b: Float64Array, slopes: Float64Array) => number

const { exp, log, pow } = Math

/** (b1 + b2 x + …)/(1 + b_k x + …) with `top` parameters above. */
const quotient =
  (top: number): Curve =>
  ([x = 0], b, slopes) => {
    const power = (k: number): number => pow(x, k)
    const above = b.subarray(0, top).reduce((sum, value, k) => sum + value * power(k), 0)
    const below = b.subarray(top).reduce((sum, value, k) => sum + value * power(k + 1), 1)
    for (let j = 0; j < b.length; j++)
      slopes[j] = j < top ? power(j) / below : (-above / below / below) * power(j - top + 1)
    return above / below
  }

const saturating: Curve = ([x = 0], [b1 = 0, b2 = 0], slopes) => {
  slopes.set([1 - exp(-b2 * x), b1 * x * exp(-b2 * x)])
  return b1 * (1 - exp(-b2 * x))
}

/** By the model as the source prints it. */
const curves: Readonly<Record<string, Curve>> = {
  'y = b1*(1-exp(-b2*x))': saturating,
  'y = b1*(b2+x)^(-1/b3)': ([x = 0], [b1 = 0, b2 = 0, b3 = 0], slopes) => {
    const value = pow(b2 + x, -1 / b3)
    slopes.set([value, (-b1 / b3) * (value / (b2 + x)), (b1 * value * log(b2 + x)) / b3 / b3])
    return b1 * value
  },
  'y = exp(-b1*x)/(b2+b3*x)': ([x = 0], [b1 = 0, b2 = 0, b3 = 0], slopes) => {
    const below = b2 + b3 * x
    const value = exp(-b1 * x) / below
    slopes.set([-x * value, -value / below, (-x * value) / below])
    return value
  },
  'y = b1*x^b2': ([x = 0], [b1 = 0, b2 = 0], slopes) => {
    slopes.set([pow(x, b2), b1 * pow(x, b2) * log(x)])
    return b1 * pow(x, b2)
  },
  'y = (b1/b2)*exp(-0.5*((x-b3)/b2)^2)': ([x = 0], [b1 = 0, b2 = 0, b3 = 0], slopes) => {
    const z = (x - b3) / b2
    const bell = exp(-0.5 * z * z) / b2
    slopes.set([bell, (b1 * bell * (z * z - 1)) / b2, (b1 * bell * z) / b2])
    return b1 * bell
  },
  'y = (b1+b2*x+b3*x^2+b4*x^3)/(1+b5*x+b6*x^2+b7*x^3)': quotient(4),
  'y = (b1+b2*x+b3*x^2)/(1+b4*x+b5*x^2)': quotient(3),
  'y = b1*exp(-b2*x)+b3*exp(-b4*x)+b5*exp(-b6*x)': ([x = 0], b, slopes) => {
    let sum = 0
    for (let j = 0; j < 6; j += 2) {
      slopes[j] = exp(-b[j + 1]! * x)
      slopes[j + 1] = -x * b[j]! * slopes[j]!
      sum += b[j]! * slopes[j]!
    }
    return sum
  },
  'y = b1*(x^2+x*b2)/(x^2+x*b3+b4)': ([x = 0], [b1 = 0, b2 = 0, b3 = 0, b4 = 0], slopes) => {
    const [above, below] = [x * x + x * b2, x * x + x * b3 + b4]
    const share = above / below
    slopes.set([share, (b1 * x) / below, (-b1 * share * x) / below, (-b1 * share) / below])
    return b1 * share
  },
  'y = b1*exp(b2/(x+b3))': ([x = 0], [b1 = 0, b2 = 0, b3 = 0], slopes) => {
    const value = exp(b2 / (x + b3))
    slopes.set([value, (b1 * value) / (x + b3), (-b1 * value * b2) / (x + b3) / (x + b3)])
    return b1 * value
  },
  'y = b1+b2*exp(-x*b4)+b3*exp(-x*b5)': ([x = 0], [b1 = 0, b2 = 0, b3 = 0, b4 = 0, b5 = 0], slopes) => {
    const [one, other] = [exp(-x * b4), exp(-x * b5)]
    slopes.set([1, one, other, -x * b2 * one, -x * b3 * other])
    return b1 + b2 * one + b3 * other
  },
  'y = b1/(1+exp(b2-b3*x))': ([x = 0], [b1 = 0, b2 = 0, b3 = 0], slopes) => {
    const grown = exp(b2 - b3 * x)
    const value = 1 / (1 + grown)
    slopes.set([value, -b1 * value * value * grown, b1 * value * value * grown * x])
    return b1 * value
  },
  'y = b1/((1+exp(b2-b3*x))^(1/b4))': ([x = 0], [b1 = 0, b2 = 0, b3 = 0, b4 = 0], slopes) => {
    const grown = exp(b2 - b3 * x)
    const value = pow(1 + grown, -1 / b4)
    const along = (-b1 * value * grown) / (1 + grown) / b4
    slopes.set([value, along, -along * x, (b1 * value * log(1 + grown)) / b4 / b4])
    return b1 * value
  },
  'log(y) = b1-b2*x1*exp(-b3*x2)': ([x1 = 0, x2 = 0], [b1 = 0, b2 = 0, b3 = 0], slopes) => {
    const fallen = exp(-b3 * x2)
    slopes.set([1, -x1 * fallen, b2 * x1 * x2 * fallen])
    return b1 - b2 * x1 * fallen
  }
}

const modelOf = ({ model, x }: Case): Model => {
  const curve = curves[model]!
  const rows = x[0]!.map((_, i) => x.map((column) => column[i]!))
  return (row, b, slopes) => curve(rows[row]!, b, slopes)
}

const sound = <T>(value: T): Exclude<T, { refused: true }> => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value as Exclude<T, { refused: true }>
}

const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

const fit = (one: Case, start: readonly number[]) =>
  fitNonlinear({ y: one.model.startsWith('log') ? one.y.map(log) : one.y, start, model: modelOf(one) })

const digits = (got: ArrayLike<number>, expected: readonly number[]): number =>
  Math.min(...expected.map((value, j) => (got[j] === value ? 16 : -Math.log10(Math.abs(got[j]! / value - 1)))))

/** Known as hard from start 1: too far off, so that the search runs away. All others are reached from both starts. */
const notReached: Readonly<Record<string, string>> = {
  'BoxBOD from start 1': 'numerics/not-converged',
  'MGH10 from start 1': 'numerics/not-converged'
}

describe('nonlinear least squares against certified values', () => {
  for (const one of reference.cases)
    for (const [at, start] of one.starts.entries()) {
      const name = `${one.name} from start ${at + 1}`
      it(name, () => {
        const got = fit(one, start)
        if (name in notReached) return expect(code(got)).toBe(notReached[name])
        const { parameters, standardErrors, sigma, rss, dof, offset } = sound(got)
        expect(digits(parameters, one.parameters)).toBeGreaterThanOrEqual(8)
        expect(digits(standardErrors, one.standardErrors)).toBeGreaterThanOrEqual(7)
        expect(digits([sigma, rss], [one.sigma, one.rss])).toBeGreaterThanOrEqual(9)
        expect(dof).toBe(one.dof)
        expect(offset).toBeLessThanOrEqual(1e-8)
      })
    }

  it('counts the degrees of freedom of Rat43 as points less parameters, which is 11 and not 9', () => {
    const rat43 = reference.cases.find(({ name }) => name === 'Rat43')!
    expect(sound(fit(rat43, rat43.starts[1]!)).dof).toBe(11)
    expect(Math.sqrt(rat43.rss / 11)).toBeCloseTo(rat43.sigma, 7)
  })

  it('has been given the derivatives of the models as their differences are', () => {
    for (const one of reference.cases) {
      const model = modelOf(one)
      const b = Float64Array.from(one.parameters)
      const slopes = new Float64Array(b.length)
      for (let row = 0; row < one.y.length; row += 5) {
        model(row, b, slopes)
        for (let j = 0; j < b.length; j++) {
          const by = 1e-6 * b[j]!
          const up = b.with(j, b[j]! + by)
          const down = b.with(j, b[j]! - by)
          const aside = new Float64Array(b.length)
          const expected = (model(row, up, aside) - model(row, down, aside)) / (2 * by)
          expect(Math.abs(slopes[j]! - expected), `${one.name} ${j} ${row}`).toBeLessThanOrEqual(
            1e-6 * Math.max(Math.abs(expected), Math.abs(one.y[row]! / b[j]!))
          )
        }
      }
    }
  })
})

describe('nonlinear least squares', () => {
  const x = [0, 1, 2, 3, 4, 5.5]
  const straight: Model = (row, [b1 = 0, b2 = 0], slopes) => {
    slopes.set([1, x[row]!])
    return b1 + b2 * x[row]!
  }

  it('is the linear fit for a model that is straight in its parameters, weighted or not', () => {
    const y = [1.2, 0.4, 3, 7.5, 1, 6.2]
    for (const weights of [undefined, [1, 0.5, 2, 3, 1, 0.25]]) {
      const weighted = weights === undefined ? {} : { weights }
      const got = sound(fitNonlinear({ y, start: [9, -9], model: straight, ...weighted }))
      const plain = sound(leastSquares({ columns: [x.map(() => 1), x], y, ...weighted }))
      for (const [j, expected] of plain.coefficients.entries()) expect(got.parameters[j]).toBeCloseTo(expected, 12)
      for (const [k, expected] of plain.covariance.values.entries())
        expect(got.covariance.values[k]).toBeCloseTo(expected, 12)
      expect(got.sigma).toBeCloseTo(plain.sigma, 12)
    }
  })

  it('ends where the data are met exactly', () => {
    const got = sound(fitNonlinear({ y: x.map((value) => 2 - 3 * value), start: [1, 1], model: straight }))
    expect(got.parameters[0]).toBeCloseTo(2, 13)
    expect(got.parameters[1]).toBeCloseTo(-3, 13)
    expect(got.sigma).toBeLessThan(1e-13)
  })

  it('refuses too few points, a start without a value, parameters that are not told apart', () => {
    expect(code(fitNonlinear({ y: [1, 2], start: [1, 1], model: straight }))).toBe('numerics/too-few-points')
    const nowhere: Model = () => Number.NaN
    expect(code(fitNonlinear({ y: x, start: [1], model: nowhere }))).toBe('numerics/not-converged')
    const twice: Model = (row, [b1 = 0, b2 = 0], slopes) => {
      slopes.set([x[row]!, x[row]!])
      return (b1 + b2) * x[row]!
    }
    const found = fitNonlinear({ y: [0.1, 1, 2, 3.1, 4, 5], start: [1, 1], model: twice })
    expect(code(found)).toBe('numerics/degenerate')
  })

  it('throws without parameters and for weights that are none', () => {
    expect(() => fitNonlinear({ y: x, start: [], model: straight })).toThrow(RangeError)
    for (const weights of [[1], x])
      expect(() => fitNonlinear({ y: x, start: [1, 1], model: straight, weights })).toThrow(RangeError)
  })
})
