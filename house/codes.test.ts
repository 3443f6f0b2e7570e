import { describe, expect, it } from 'vitest'
import { codesIn, doubled, elsewhere, misnamed, unprovoked } from './codes.ts'
import { codeSources } from './tree.ts'

describe('refusal codes', () => {
  const all = codeSources()
  const codes = codesIn(all)

  it('are named for their room', () => expect(misnamed(codes)).toEqual([]))
  it('are each listed once', () => expect(doubled(codes)).toEqual([]))
  it('are each provoked by a test', () => expect(unprovoked(codes, all)).toEqual([]))
  it('are listed in codes.ts alone', () => expect(elsewhere(all)).toEqual([]))
})

describe('the check itself', () => {
  const list = { path: 'job/scan/codes.ts', text: "export const codes = ['scan/empty', 'scan/not-wav'] as const" }

  it('reads a list', () => expect(codesIn([list]).map(({ code }) => code)).toEqual(['scan/empty', 'scan/not-wav']))

  it('finds wrong names, doubles and a list elsewhere', () => {
    const wrong = codesIn([
      list,
      { path: 'job/signal/codes.ts', text: "export const codes = ['scan/empty', 'Signal']" }
    ])
    expect(misnamed(wrong)).toEqual(['job/signal/codes.ts: scan/empty', 'job/signal/codes.ts: Signal'])
    expect(doubled(wrong)).toEqual(['scan/empty'])
    expect(elsewhere([{ path: 'job/scan/wav.ts', text: "const refuse = refuser(['scan/empty'])" }])).toHaveLength(1)
  })

  it('finds a code that only the product or a comment names', () => {
    const product = { path: 'job/scan/wav.ts', text: "refuse('scan/empty', reason)" }
    const comment = { path: 'job/scan/wav.test.ts', text: "// 'scan/empty'\nexpect(code).toBe('scan/not-wav')" }
    expect(unprovoked(codesIn([list]), [list, product, comment])).toEqual(['job/scan/codes.ts: scan/empty'])
  })
})
