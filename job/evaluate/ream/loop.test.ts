/**
 * Oracle: the order as the procedure has it, written as a regular expression over one letter a step; and by hand where a
 * fact says more than its order.
 */
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { type ReamFact, type ReamState, type ReamStep, reamState, reamSteps, type Shown } from './index.ts'
import { rules } from './testing/asked.ts'

/** The rules, a further cut asked for or not. Sizes by a millimeter, for as many cuts as a test makes. */
const sizes = Array.from({ length: 9 }, (_, i) => ({ diameter_mm: 7 + i }))
const start = (further_cut_mm?: number) => ({
  rules: { ...rules, permitted_sizes_mm: sizes, ...(further_cut_mm === undefined ? {} : { further_cut_mm }) },
  measured_mm: [6]
})

const letters: Readonly<Record<string, ReamStep | Shown>> = {
  ...{ C: 'ream chosen', R: 'reamed', K: 'cleaned', M: 'measured', S: 'standardized at that diameter' },
  ...{ F: 'further cut', Z: 'closed' },
  ...{ n: 'no relevant indication', r: 'relevant', u: 'undecided', x: 'not examined' }
}

/** Facts of a row of letters; each cut makes the hole a millimeter larger, and it comes out to size. */
function factsOf(row: string): readonly ReamFact[] {
  let diameter_mm = 6
  return [...row].map((letter): ReamFact => {
    const word = letters[letter]!
    if (word === 'ream chosen' || word === 'further cut') return { step: word, diameter_mm: ++diameter_mm }
    if (word === 'measured') return { step: word, diameters_mm: [diameter_mm] }
    if (word === 'standardized at that diameter') return { step: word, diameter_mm }
    return isShown(word) ? { step: 'examined', shows: word } : { step: word as 'reamed' }
  })
}

const isShown = (word: ReamStep | Shown): word is Shown => !reamSteps.includes(word as ReamStep)

const passes = (row: string, further?: number): boolean => !isRefusal(reamState(start(further), factsOf(row)))

function after(row: string, further?: number): ReamState {
  const state = reamState(start(further), factsOf(row))
  if (isRefusal(state)) throw new Error(`${state.code}: ${state.found}`)
  return state
}

const codeOf = (facts: readonly ReamFact[], from: Parameters<typeof reamState>[0] = start()) => {
  const state = reamState(from, facts)
  return isRefusal(state) ? [state.code, state.where?.path] : state.next
}

function permutations(row: string): readonly string[] {
  if (row.length < 2) return [row]
  return [...row].flatMap((first, i) => permutations(row.slice(0, i) + row.slice(i + 1)).map((rest) => first + rest))
}

describe('the order of the steps', () => {
  it('is one of 5040', () => {
    expect(permutations('CRKMSnZ').filter((row) => passes(row))).toEqual(['CRKMSnZ'])
  })

  it('leaves none out, and does none twice but standardizing and examining', () => {
    const whole = 'CRKMSnZ'
    for (let at = 0; at < whole.length - 1; at++) {
      expect(passes(whole.slice(0, at) + whole.slice(at + 1)), `without ${whole[at]}`).toBe(false)
      const twice = whole.slice(0, at) + whole[at] + whole.slice(at)
      expect(passes(twice), twice).toBe('Sn'.includes(whole[at]!))
    }
    expect(passes('CRKMSnZZ')).toBe(false)
  })

  /** Rounds that ended with a trace or undecided, then the last round as far as it is. */
  const plain = /^(CRKMS[Snrux]*[ru])*(|C|CR|CRK|CRKM|CRKMS[Snrux]*(nZ)?)$/
  /** As soon as nothing is shown the further cut is next; a trace after it begins anew. */
  const further =
    /^(CRKMS[Snrux]*(nFKMS[Snrux]*)?[ru])*(|C|CR|CRK|CRKM|CRKMS[Snrux]*(|nF|nFK|nFKM|nFKMS[Snrux]*(nZ)?))$/

  it.each([
    ['without a further cut', plain, undefined],
    ['with a further cut', further, 0.5]
  ] as const)(
    'is that of the procedure, %s, for every row of up to eighteen steps that begins rightly',
    (_, order, cut) => {
      let rows = ['']
      const met = { taken: 0, refused: 0, closed: 0 }
      for (let length = 1; length <= 18; length++) {
        const longer = rows.flatMap((row) => Object.keys(letters).map((letter) => row + letter))
        const taken = longer.filter((row) => passes(row, cut))
        expect(taken).toEqual(longer.filter((row) => order.test(row)))
        met.taken += taken.length
        met.refused += longer.length - taken.length
        met.closed += taken.filter((row) => row.endsWith('Z')).length
        // more looks at one diameter differ in nothing more
        rows = taken.filter((row) => !/[Snrux]{4}/.test(row))
      }
      expect(Math.min(met.taken, met.refused, met.closed)).toBeGreaterThan(25)
    }
  )
})

describe('how far a hole is', () => {
  it.each<[string, number | undefined, readonly ReamStep[], boolean]>([
    ['', undefined, ['ream chosen'], false],
    ['C', undefined, ['reamed'], false],
    ['CR', undefined, ['cleaned'], false],
    ['CRK', undefined, ['measured'], false],
    ['CRKM', undefined, ['standardized at that diameter'], false],
    ['CRKMS', undefined, ['examined'], false],
    ['CRKMSn', undefined, ['closed'], true],
    ['CRKMSr', undefined, ['ream chosen'], false],
    ['CRKMSu', undefined, ['examined', 'ream chosen'], false],
    ['CRKMSx', undefined, ['examined'], false],
    ['CRKMSnx', undefined, ['examined'], false],
    ['CRKMSnS', undefined, ['examined'], false],
    ['CRKMSnZ', undefined, [], false],
    ['CRKMSn', 0.5, ['further cut'], false],
    ['CRKMSnF', 0.5, ['cleaned'], false],
    ['CRKMSnFKMSn', 0.5, ['closed'], true],
    ['CRKMSnFKMSr', 0.5, ['ream chosen'], false],
    ['CRKMSnFKMSrCRKMSn', 0.5, ['further cut'], false]
  ])('after "%s" (further cut %s): %j', (row, cut, next, closable) =>
    expect(after(row, cut)).toMatchObject({ next, closable })
  )

  it('counts its cuts and keeps its diameters', () => {
    expect(after('CRKMSrCRKMS')).toMatchObject({ cuts: 2, measured_mm: [[6], [7], [8]] })
    expect(after('CRKMSnF', 0.5)).toMatchObject({ cuts: 2, measured_mm: [[6], [7]] })
  })

  it('says what it waits for, and never that something not examined shows nothing', () => {
    expect(after('CRK').open).toEqual(['not examined since the last cut was chosen; last step: cleaned'])
    expect(after('CRKMSx').open).toEqual(['the examination at 7 mm: not examined'])
    expect(after('CRKMSu').open).toEqual(['the examination at 7 mm: undecided'])
    expect(after('CRKMSn', 0.5).open).toEqual(['the procedure asks for a further cut of 0.5 mm'])
    expect(after('CRKMSn').open).toEqual([])
  })
})

describe('a cut hole is not closed', () => {
  const close = (row: string, cut?: number) => codeOf(factsOf(`${row}Z`), start(cut))

  it.each(['C', 'CR', 'CRK', 'CRKM', 'CRKMS', 'CRKMSr', 'CRKMSu', 'CRKMSx', 'CRKMSnx', 'CRKMSnS', 'CRKMSrCRKMS'])(
    'after "%s"',
    (row) => expect(close(row)).toEqual(['evaluate/ream-not-closable', `facts[${row.length}]`])
  )

  it('while the further cut is owed, or was not examined', () => {
    for (const row of ['CRKMSn', 'CRKMSnF', 'CRKMSnFKMS', 'CRKMSnFKMSrCRKMSn'])
      expect(close(row, 0.5)).toEqual(['evaluate/ream-not-closable', `facts[${row.length}]`])
    expect(close('CRKMSnFKMSn', 0.5)).toEqual([])
  })

  it('with nothing done there is nothing to close, and once closed it is', () => {
    expect(close('')).toEqual(['evaluate/ream-out-of-order', 'facts[0]'])
    expect(close('CRKMSnZ')).toEqual(['evaluate/ream-out-of-order', 'facts[7]'])
  })
})

describe('what the facts say', () => {
  const begun = (diameters_mm: readonly number[], standard_mm: number): readonly ReamFact[] => [
    ...[...factsOf('CRK'), { step: 'measured' as const, diameters_mm }],
    { step: 'standardized at that diameter', diameter_mm: standard_mm }
  ]
  const near = { ...start(), rules: { ...start().rules, permitted_sizes_mm: [{ diameter_mm: 7, over_mm: 0.1 }] } }

  it('a standardization holds within the diameter class at every diameter of the hole', () => {
    // class 0.04 mm
    const no = ['evaluate/ream-standard-diameter', 'facts[4]']
    expect(codeOf(begun([7, 7.03], 7.04))).toEqual(['examined'])
    expect(codeOf(begun([7, 7.03], 7.041))).toEqual(no)
    expect(codeOf(begun([7, 7.03], 6.99))).toEqual(['examined'])
    expect(codeOf(begun([7, 7.03], 6.989))).toEqual(no)
    expect(codeOf(begun([7, 7.09], 7.045))).toEqual(no)
    expect(codeOf(begun([7], 6))).toEqual(no)
  })

  it('a hole that came out off its size has to be cut again or referred', () => {
    const examined = (diameters_mm: readonly number[]) =>
      reamState(near, [...begun(diameters_mm, diameters_mm[0]!), { step: 'examined', shows: 'no relevant indication' }])
    expect(examined([7, 7.03])).toMatchObject({ next: ['closed'], open: [] })
    expect(examined([7.07, 7.1])).toMatchObject({ next: ['closed'] })
    for (const off of [
      [6.99, 7.02],
      [7.08, 7.11]
    ])
      expect(examined(off)).toMatchObject({
        ...{ next: ['ream chosen'], closable: false },
        open: [expect.stringContaining('the size chosen is 7 to 7.1 mm')]
      })
  })

  it('a further cut that came out short is still owed; what was cut since the trace was gone counts', () => {
    // 7.00 and a further cut of 0.50: at least 7.50
    const permitted_sizes_mm = [7, 7.49, 7.5].map((diameter_mm) => ({ diameter_mm }))
    const from = { rules: { ...near.rules, permitted_sizes_mm, further_cut_mm: 0.5 }, measured_mm: [6] }
    const cut = (diameter_mm: number): readonly ReamFact[] => [
      { step: 'further cut', diameter_mm },
      { step: 'cleaned' },
      { step: 'measured', diameters_mm: [diameter_mm] },
      { step: 'standardized at that diameter', diameter_mm },
      { step: 'examined', shows: 'no relevant indication' }
    ]
    const first = factsOf('CRKMSn')
    expect(codeOf([...first, ...cut(7.5)], from)).toEqual(['closed'])
    expect(codeOf([...first, ...cut(7.49)], from)).toEqual(['further cut'])
    expect(codeOf([...first, ...cut(7.49), ...cut(7.5)], from)).toEqual(['closed'])
  })

  it('only a permitted size larger than the hole is chosen, and no cut beyond the most', () => {
    const choose = (diameter_mm: number): readonly ReamFact[] => [{ step: 'ream chosen', diameter_mm }]
    const no = ['evaluate/ream-size-not-permitted', 'facts[0]']
    expect(codeOf(choose(7))).toEqual(['reamed'])
    expect(codeOf(choose(7.5))).toEqual(no)
    expect(codeOf(choose(7), { ...start(), measured_mm: [7] })).toEqual(no)
    const limited = (most_cuts: number) => ({ ...start(), rules: { ...start().rules, most_cuts } })
    expect(codeOf(factsOf('CRKMSrC'), limited(2))).toEqual(['reamed'])
    expect(codeOf(factsOf('CRKMSrC'), limited(1))).toEqual(['evaluate/ream-too-many-cuts', 'facts[6]'])
  })

  it('diameters are diameters, and larger after a cut', () => {
    const measured = (...diameters_mm: number[]): readonly ReamFact[] => [
      ...factsOf('CRK'),
      { step: 'measured', diameters_mm }
    ]
    expect(codeOf(measured())).toEqual(['evaluate/ream-not-measured', 'facts[3]'])
    expect(codeOf(measured(Number.NaN))).toEqual(['evaluate/ream-not-measured', 'facts[3]'])
    expect(codeOf(measured(6, 7))).toEqual(['evaluate/ream-diameter-not-larger', 'facts[3]'])
    expect(codeOf([], { ...start(), measured_mm: [] })).toEqual(['evaluate/ream-not-measured', undefined])
  })

  it('without rules there is no loop', () =>
    expect(codeOf([], { ...start(), rules: undefined })).toEqual(['evaluate/ream-no-rules', undefined]))

  it('out of order it says what is next', () => {
    const state = reamState(start(), factsOf('CK'))
    expect(state).toMatchObject({ found: '"cleaned" after "ream chosen"', needed: 'reamed' })
    expect(reamState(start(), factsOf('R'))).toMatchObject({ found: '"reamed" as the first step' })
  })
})
