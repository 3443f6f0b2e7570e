import { describe, expect, it } from 'vitest'
import type { Examination } from '../examine/index.ts'
import type { Block } from './blocks.ts'
import { clock, farthest, reach } from './figures/frame.ts'
import { outcomeOf } from './outcome.ts'
import { covered } from './print.ts'
import { replay } from './replay.ts'
import { reportBlocks } from './report.ts'
import type { ReportInput } from './report-input.ts'
import { sections } from './sections.ts'
import { chainOfEntries, examined, inventedReport, kept, opened, plain, sha256, standardized } from './testing/index.ts'

const whole = inventedReport()
const blocks = reportBlocks(whole)
const text = plain(blocks)
const figures = (all: readonly Block[]) => all.filter((block) => block.block === 'figure')

/** A record in which nothing has happened yet. */
const bare = (over: Partial<ReportInput> = {}): ReportInput => ({
  state: replay(chainOfEntries('J', [opened('J', ['1', '2'])])),
  standards: [],
  standardizations: [],
  examinations: [],
  refused: [],
  program: { name: 'Trueloop', version: '0' },
  printed: whole.printed,
  ...over
})

describe('report', () => {
  it('says, word for word, what it said before', async () => {
    await expect(text).toMatchFileSnapshot('./golden/report.txt')
  })

  it('is equal each time', () => expect(reportBlocks(inventedReport())).toEqual(blocks))

  it('has every section, what was not examined before anything that was found', () => {
    const titles = blocks.flatMap((block) => (block.block === 'heading' && block.level === 2 ? [block.title] : []))
    expect(titles).toEqual(sections.map(({ title }) => title))
    expect(titles.slice(0, 3)).toEqual(['Job and component', 'Not examined', 'Limitations and cautions'])
    expect(titles.indexOf('Not examined')).toBeLessThan(titles.indexOf('Findings'))
  })

  it('never promises that nothing is there', () =>
    expect(text).not.toMatch(/\bno (?:cracks?|defects?)\b|(?:crack|defect|flaw)[- ]free/i))

  it('says what was examined, what was found and that nobody has shown what that could show', () =>
    expect(text).toContain(
      'Examined: whole wall, 36 of 36 revolutions. No relevant indication. Detectable size not demonstrated for this set-up.'
    ))

  it('marks a demonstration and that nobody has signed', () => {
    expect(text).toContain('[stop] Demonstration, never to be signed off')
    expect(text).toContain('[warning] Unsigned')
    const { state } = whole
    const real = { ...state, opened: { ...state.opened, job: { ...state.opened.job, demonstration: false } } }
    expect(plain(reportBlocks({ ...whole, state: real }))).not.toContain('Demonstration')
  })

  it('says first why sizes are withheld', () =>
    expect(text.slice(text.indexOf('## Not examined'))).toMatch(
      /^## Not examined\n\[warning\] Sizes and proposals withheld.*\n- The cable is unknown: W-4\./
    ))

  it('draws loop, profile and unrolled bore for each finding, each with words', () => {
    expect(figures(blocks)).toHaveLength(3 * 4 + 1)
    for (const figure of figures(blocks)) if (figure.block === 'figure') expect(figure.alt.length).toBeGreaterThan(30)
  })

  it('prints the end of the chain', () => {
    const { count, head } = whole.state
    expect(text).toContain(`Chain head: ${count}:${head}`)
  })
})

describe('a report with little in it', () => {
  it('says of every section that there is nothing, and why', () => {
    const said = plain(reportBlocks(bare()))
    for (const sentence of [
      'Of 2 holes, 2 were not examined and 0 only in part. Not examined: 1, 2.',
      'No recording was taken.',
      'The record names no technique.',
      'No reference scan has been standardized.',
      'No recheck is in the record.',
      'No indication was kept in any examined zone.',
      'Nothing has been examined.',
      'No recording is kept.',
      '[stop] Technique not confirmed'
    ])
      expect(said).toContain(sentence)
  })

  it('does not take a recording for an examination', () => {
    const state = replay(chainOfEntries('J', [opened('J', ['1']), kept('h1', { of: 'hole', name: '1' })]))
    expect(plain(reportBlocks(bare({ state })))).toContain('h1.csv is kept and has not been examined.')
  })

  it('does not take a missing document for a clean one', () => {
    const scan = [kept('h1', { of: 'hole', name: '1' }), examined('h1', '1', 'r')]
    const state = replay(chainOfEntries('J', [opened('J', ['1']), kept('r', { of: 'reference' }), ...scan]))
    const said = plain(reportBlocks(bare({ state })))
    expect(said).toContain('voided by a recheck')
    expect(said).not.toContain('whole wall')
  })
})

describe('a report of a track, and of a recording without a position', () => {
  const found = whole.examinations.flatMap(({ document }) => document.indications)[0]!
  const track: Examination = {
    ...whole.examinations[0]!.document,
    ...{ application: 'weld', subject: '1', recording: sha256('h'), zones: [] },
    position: { axial: 'encoder along the track', axialUncertainty_m: 0.0005, angle: 'position' },
    indications: [
      {
        ...found,
        angle_rad: 'unknown',
        snippet: { ...found.snippet, stepUnit: 'm', step: 1e-4, along: [], alongFrom: 0 }
      }
    ]
  }
  const loop: Examination = {
    ...track,
    ...{ application: 'loop', amplitudeUnit: 'recorded', standardization: 'none' },
    position: { axial: 'unknown', axialUncertainty_m: 'unknown', angle: 'unknown' },
    indications: [
      {
        ...track.indications[0]!,
        z_m: 'unknown',
        z0_m: 'unknown',
        z1_m: 'unknown',
        snippet: { ...found.snippet, stepUnit: 's', step: 1e-3, along: [], alongFrom: 0 }
      }
    ]
  }

  const reportOf = (document: Examination, of: 'track' | 'loop') => {
    const job = { ...opened('J', ['1']), application: document.application, places: [{ of, name: '1' }] }
    const entry = { ...examined('h', '1', 'r'), ...outcomeOf(document, sha256), subject: { of, name: '1' } }
    const start = of === 'loop' ? [] : [kept('r', { of: 'reference' }), standardized('r')]
    const outcome = of === 'loop' ? entry : { ...entry, standardization: standardized('r').standardization }
    const state = replay(chainOfEntries('J', [job, ...start, kept('h', { of, name: '1' }), outcome]))
    return reportBlocks(bare({ state, examinations: [{ hash: entry.examination, document }] }))
  }

  it('of a track gives a position and no angle', () => {
    const all = reportOf(track, 'track')
    expect(plain(all)).toContain(
      'Axial position: 4.10 mm, from 3.50 mm to 4.70 mm (encoder along the track, ±\u00a00.50 mm)'
    )
    expect(plain(all)).not.toContain('Angle:')
    expect(figures(all)).toHaveLength(2)
  })

  it('of a loop says that the position is unknown, and gives the amplitude as recorded', () => {
    const all = reportOf(loop, 'loop')
    for (const sentence of [
      'Place: position unknown',
      '0.7800 as recorded',
      'None: there is no standardization to check.',
      'The position of the indications is unknown'
    ])
      expect(plain(all)).toContain(sentence)
    expect(figures(all)).toHaveLength(2)
  })
})

describe('figures of a report', () => {
  it.each([
    [0, '12:00'],
    [90, '3:00'],
    [135, '4:30'],
    [355, '11:50'],
    [359, '12:00'],
    [360, '12:00']
  ])('an angle of %d degrees is %s', (angle, expected) => expect(clock((angle * Math.PI) / 180)).toBe(expected))

  it.each([
    [1, '100 %'],
    [0.9999, '99.9 %'],
    [0.996, '99.6 %'],
    [0.62, '62 %'],
    [0, '0 %']
  ])('a share of %d is %s', (share, expected) => expect(covered(share)).toBe(expected))

  it('finds the points farthest apart', () => expect(farthest({ x: [0, 3, 1, -1], y: [0, 0, 5, -2] })).toEqual([2, 3]))
  it('does not blow up noise', () => expect(reach(0.5, [0.1, -0.2])).toBe(0.5))
})
