import { sign } from 'node:crypto'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal, type Result, sentence } from '@trueloop/ground/refusal'
import { canonical, choiceOf, type Entry, replay } from '@trueloop/job/record'
import { examined, head, indication, invent, kept, opened, rechecked, standardized } from '@trueloop/job/record/testing'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type Archive, openArchive } from '../archive/index.ts'
import { sha256 } from '../hash/index.ts'
import { cutHole, decide, type Signing } from './index.ts'

/**
 * Oracle: ΔØ = 2 (u + a + e) from the largest measured diameter, reckoned by hand: with u 0.3, a 0.2 and e 0.05 mm it is
 * 1.10 mm, 6.36 + 1.10 = 7.46 mm, and 7.54 − 0.01 is the next permitted size that is sure to be as large.
 */

const rules = {
  permitted_sizes_mm: [
    { diameter_mm: 6.75, over_mm: 0.02, under_mm: 0 },
    { diameter_mm: 7.14, over_mm: 0.02, under_mm: 0 },
    { diameter_mm: 7.54, over_mm: 0.03, under_mm: 0.01 }
  ],
  ...{ max_diameter_mm: 8, min_edge_margin: 1.5, depth_allowance_mm: 0.2, eccentricity_mm: 0.05 },
  diameter_class_mm: 0.04
}

const got = <T>(result: Result<T>): T => {
  if (isRefusal(result)) throw new Error(sentence(result))
  return result as T
}

let folder = ''
let archive: Archive
const two = invent('B. Two')
const clock = () => ({ time: '2026-03-14T12:00:00.000Z', known: 'clock of this computer' as const })
const signing = (): Signing => ({
  ...{ archive, job: 'J', clock },
  signer: {
    ...{ person: sha256(canonical(two.row)), row: two.row },
    sign: (text) => sign(null, Buffer.from(text), two.key).toString('base64')
  }
})

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-ream-'))
  archive = got(await openArchive(join(folder, 'archive')))
})
afterEach(async () => {
  await archive.close()
  rmSync(folder, { recursive: true })
})

interface Given {
  readonly reaming?: object
  readonly size?: object
  readonly edge_distance_mm?: number
  readonly measured?: boolean
}

const bounded = { depth: '≤ 0.30 mm', upper_mm: 0.3, extent: 'not known', withheld: [] }

/** One hole, measured at 6.35 to 6.36 mm, with one crack of which this is stated. */
async function job({ reaming = rules, size = bounded, edge_distance_mm = 14, measured = true }: Given = {}) {
  const technique = { application: 'fastener hole', ...('permitted_sizes_mm' in reaming ? { reaming } : {}) }
  const document = got(await archive.storeDocument('technique', technique))
  const crack = indication({ id: '1/1', angle_rad: 1, z_m: 4e-3 })
  const found = { indications: [{ ...crack, size }] }
  const examination = got(await archive.storeDocument('examination', found))
  const place = { of: 'hole' as const, name: '1', diameter_mm: 6.35, grip_mm: 9 }
  const places = [{ ...place, ...(edge_distance_mm === 0 ? {} : { edge_distance_mm }) }]
  const done = { by: 'A', on: '2026-03-14' }
  const gauged = {
    ...{ measured_diameter_mm: 6.36, out_of_round_mm: 0.01, gauge: 'G-1', gauge_uncertainty_mm: 0.005 },
    measured: done
  }
  const entries: readonly Entry[] = [
    { ...opened('J', ['1']), places, signing: 'required' },
    { kind: 'document-stored', version: 1, ...head(), document, what: 'technique' },
    {
      ...{ kind: 'place-prepared', version: 1, ...head(), subject: { of: 'hole', name: '1' }, cleaned: done },
      ...{ deburred: 'yes', visual: 'nothing', signed: false, ...(measured ? gauged : {}) }
    },
    ...[kept('ref', { of: 'reference' }), { ...standardized('ref'), diameter_mm: 6.35 }],
    ...[
      kept('scan', { of: 'hole', name: '1' }),
      { ...examined('scan', '1', 'ref', { indications: [crack] }), examination }
    ],
    ...[kept('check', { of: 'recheck' }), rechecked('check', 'ref', true)]
  ]
  got(await archive.append('J', 0, entries))
}

const ream = (size_mm?: number, reason?: string) =>
  decide(
    {
      ...{ place: '1', disposition: 'clean-up ream' as const },
      ...(size_mm === undefined ? {} : { size_mm }),
      ...(reason === undefined ? {} : { reason })
    },
    signing()
  )
const now = async () => replay(got(await archive.entries('J')))
const codeOf = (result: Result<unknown>) => (isRefusal(result) ? result.code : 'no refusal')

describe('a clean-up ream', () => {
  it('shows its arithmetic first, and records nothing without a size', async () => {
    await job()
    const { count } = await now()
    const no = await ream()
    expect(codeOf(no)).toBe('decide/no-ream-size')
    if (!isRefusal(no)) return
    expect(no.found).toContain('increase of the diameter: 2 × (0.3 + 0.2 + 0.05) = 1.1 mm')
    expect(no.found).toContain('diameter needed: 6.36 + 1.1 = 7.46 mm')
    expect(no.found).toContain('proposed: clean-up ream to 7.54 mm, a person decides')
    expect(no.remedy).toContain('--size 7.54')
    expect((await now()).count).toBe(count)
  })

  it('is recorded with every term, and cut as it was chosen', async () => {
    await job()
    const { lines } = got(await ream(7.54))
    expect(lines).toContain('increase of the diameter: 2 × (0.3 + 0.2 + 0.05) = 1.1 mm')
    const [place] = (await now()).places
    const choice = choiceOf(place?.disposition)
    expect(choice).toMatchObject({ chosen_mm: 7.54, next_mm: 7.54, rules, measured_mm: [[6.36, 6.35]], lines })
    expect(choice?.figure).toMatchObject({
      proposed: 'next size',
      terms: { allowance_mm: 0.2, eccentricity_mm: 0.05, increase_mm: 1.1, required_mm: 7.46, max_diameter_mm: 8 }
    })
    expect(codeOf(await cutHole({ place: '1', aimed_mm: 7.14 }, signing()))).toBe('record/no-ream-chosen')
    got(await cutHole({ place: '1', aimed_mm: 7.54 }, signing()))
    const [cut] = (await now()).places
    expect(cut).toMatchObject({ state: 'ream and re-inspect', cuts: [{ aimed_mm: 7.54 }] })
  })

  it('of another size than the proposed one needs its reason', async () => {
    await job()
    expect(codeOf(await ream(7.14))).toBe('record/no-reason')
    expect(codeOf(await ream(7.2, 'a reamer of that size is at hand'))).toBe('record/size-not-permitted')
    got(await ream(7.14, 'engineering has accepted 7.14 mm, letter 3 (invented)'))
    expect(choiceOf((await now()).places[0]?.disposition)).toMatchObject({ chosen_mm: 7.14, next_mm: 7.54 })
  })

  it.each<[string, Given, RegExp]>([
    [
      'a depth without an upper end',
      { size: { depth: '≥ 0.50 mm', lower_mm: 0.5, extent: 'not known', withheld: [] } },
      /^no figure: 1\/1: ≥ 0.50 mm, no upper bound/
    ],
    ['a size that is withheld', { size: { ...bounded, withheld: ['the cable is unknown'] } }, /size withheld/],
    ['no distance from the edge', { edge_distance_mm: 0 }, /hole 1 without edge_distance_mm/],
    ['no measuring', { measured: false }, /no measured diameter/]
  ])('has no figure with %s: it is proposed to refer', async (_, given, line) => {
    await job(given)
    const no = await ream()
    expect(isRefusal(no) ? no.found : '').toContain('proposed: refer to engineering, a person decides')
    expect(codeOf(await ream(7.54))).toBe('record/no-reason')
    const { lines } = got(await ream(7.54, 'engineering has accepted 7.54 mm (invented)'))
    expect(lines?.[0]).toMatch(line)
    expect(choiceOf((await now()).places[0]?.disposition)?.next_mm).toBeUndefined()
  })

  it('is refused where the technique permits none', async () => {
    await job({ reaming: {} })
    expect(codeOf(await ream(7.54, 'any'))).toBe('evaluate/ream-no-rules')
  })
})
