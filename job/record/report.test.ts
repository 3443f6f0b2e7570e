import { describe, expect, it } from 'vitest'
import type { Examination } from '../examine/index.ts'
import type { Block } from './blocks.ts'
import { clock, farthest, reach } from './figures/frame.ts'
import { outcomeOf } from './outcome.ts'
import { covered } from './print.ts'
import { replay } from './replay.ts'
import { reportBlocks, sectionsOf } from './report.ts'
import type { ReportInput } from './report-input.ts'
import { chainOfEntries, examined, inventedReport, kept, opened, plain, sha256, standardized } from './testing/index.ts'

const whole = inventedReport()
const blocks = reportBlocks(whole)
const text = plain(blocks)
const figures = (all: readonly Block[]) => all.filter((block) => block.block === 'figure')

/** A record in which nothing has happened yet. */
const bare = (over: Partial<ReportInput> = {}): ReportInput => ({
  state: replay(chainOfEntries('J', [opened('J', ['1', '2'])])),
  registered: [],
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
    expect(titles).toEqual(sectionsOf(inventedReport()).map(({ title }) => title))
    expect(titles.slice(0, 3)).toEqual(['Job and component', 'Not examined', 'Limitations and cautions'])
    expect(titles.indexOf('Not examined')).toBeLessThan(titles.indexOf('Findings'))
  })

  it('never promises that nothing is there', () =>
    expect(text).not.toMatch(/\bno (?:cracks?|defects?)\b|(?:crack|defect|flaw)[- ]free/i))

  it('says what was examined and what was found, and once that nobody has shown what that could show', () => {
    expect(text).toContain('Examined: whole wall, 36 of 36 revolutions. No relevant indication.')
    expect(text).toContain('[warning] Capability: detectable size not demonstrated for this set-up')
  })

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

  it('draws a map, and loop, profile and unrolled bore for each finding, each with words', () => {
    expect(figures(blocks)).toHaveLength(1 + 3 * 4 + 1)
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
    expect(said).toContain('no reference scan before it')
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
    // its loop and its profile, and the track on the weld map
    expect(figures(all)).toHaveLength(3)
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

describe('a report of sizes', () => {
  const [document] = whole.examinations.filter(({ document: one }) => one.subject === 'W-2')
  const sized = (over: Partial<Examination['indications'][number]['size']>, noise: object = {}) => {
    const { document: one, hash } = document!
    const [found] = one.indications
    const changed: Examination = {
      ...one,
      noise: { ...one.noise!, ...noise },
      indications: [{ ...found!, cause: 'crack', size: { ...found!.size, ...over } }]
    }
    return plain(reportBlocks({ ...whole, examinations: [{ hash, document: changed }] }))
  }
  const ratio = {
    ...{ name: 'corner cracks', ratio: 0.74, spread: 0.06, cracks: 14, source: 'report 12' },
    approved: 'B, level III, 2026-03-14'
  }
  const range = { depth_mm: 0.61, lower_mm: 0.5, upper_mm: 0.78, level: 0.95, basis: 'amplitude along the axis' }

  it('gives cause, notch-equivalent depth with its interval, extent as measured and length with footprint out', () => {
    const length = { length: '0.90 mm (0.70 to 1.10), footprint taken out', footprint_mm: 1.31 }
    const said = sized({ ...range, ...length })
    expect(said).toContain('Cause: crack')
    expect(said).toContain(
      'Notch-equivalent depth: 0.61 mm, from 0.50 mm to 0.78 mm (interval of 95 %; amplitude along the axis)'
    )
    expect(said).toContain('Axial extent: 1.20 mm between the −6 dB points, footprint included (as measured)')
    expect(said).toContain('Length: 0.90 mm (0.70 to 1.10), footprint taken out (coil footprint 1.31 mm)')
    expect(said).not.toContain('Crack depth')
  })

  it('gives a crack depth only with the ratio it was turned by', () => {
    const said = sized({ ...range, equivalent: { depth_mm: 0.45, lower_mm: 0.4 }, ratio })
    expect(said).toContain('Notch-equivalent depth: 0.45 mm, from 0.40 mm to beyond the deepest notch')
    expect(said).toContain(
      'Crack depth: 0.61 mm, from 0.50 mm to 0.78 mm (interval of 95 %; by response ratio "corner cracks", 0.74 ± 0.06 from 14 cracks: report 12; approved by B, level III, 2026-03-14)'
    )
  })

  it.each([
    [{ lower_mm: 1 }, '≥ 1.00 mm ('],
    [{ upper_mm: 0.25 }, '≤ 0.25 mm ('],
    [{ lower_mm: 0.25, upper_mm: 0.5 }, '0.25 mm to 0.50 mm ('],
    [{}, 'not stated\n']
  ])('says a bound as a bound: %o is %s', (equivalent, text) =>
    expect(sized({ ...range, equivalent, ratio })).toContain(`Notch-equivalent depth: ${text}`)
  )

  it('says what of a size is held back, and why', () => {
    const why = [
      { refused: true as const, code: 'evaluate/few', found: 'two notches', needed: 'four', remedy: 'use more notches' }
    ]
    expect(sized({ why })).toContain('Withheld of the size\n  Found | Needed | What to do\n  two notches | four | use')
  })

  it('says that false calls are modelled, and how many places would show them', () => {
    // 100 / 0.005
    expect(sized({}, { falseCalls: 0.005 })).toContain(
      '0.0050 | modelled, not shown: fewer than 20000 places without a flaw were seen'
    )
    expect(sized({}, { falseCalls: 0 })).toContain('modelled, not shown: too few were seen')
    expect(sized({})).toContain('not stated | not stated')
  })
})

describe('a report of the technique and its standardization', () => {
  it('gives least angle from lift-off, second frequency and hand feed', () => {
    const technique = {
      ...whole.technique!,
      document: {
        ...whole.technique!.document,
        ...{ min_separation_deg: 20, second_frequency_kHz: 200 },
        hand_feed: { strokes: 'one way' as const, fastest_to_mean: 2.5 }
      } as NonNullable<ReportInput['technique']>['document']
    }
    const said = plain(reportBlocks({ ...whole, technique }))
    expect(said).toContain('Least angle from lift-off: 20° (and three times its repeatability)')
    expect(said).toContain('Second frequency: 200 kHz')
    expect(said).toContain('Hand feed: one way (fastest feed at most 2.5 times the mean between two joints or faces)')
    expect(text).toContain('Least angle from lift-off: not stated')
  })

  it('gives the angle of each notch from lift-off, its extent, and the footprint', () => {
    const [first] = whole.standardizations
    const away = (angle_deg: number) => ({
      fromLiftOff: {
        angle_rad: (angle_deg * Math.PI) / 180,
        repeatability_rad: Math.PI / 180,
        needed_rad: (3 * Math.PI) / 180
      }
    })
    const document = {
      ...first!.document,
      notches: first!.document.notches.map((notch, at) => ({ ...notch, extent_m: 0.0016, ...away(at === 0 ? 65 : 2) })),
      axial: {
        ...{ notch: 'mid-bore 0.25 mm', length_mm: 0.5 },
        profile: [-1.5, -1, -0.5, 0, 0.5, 1, 1.5].map((mm) => ({
          dz_m: mm / 1000,
          share: Math.max(0, 1 - Math.abs(mm))
        }))
      }
    }
    const said = plain(reportBlocks({ ...whole, standardizations: [{ hash: first!.hash, document }] }))
    expect(said).toContain('65.0° ± 1.0° | 1.60 mm')
    expect(said).toContain('2.0° ± 1.0°, below 3.0°: not used for sizes')
    // a triangle of half-width 1 mm is half as high at ±0.5 mm
    expect(said).toContain('Coil footprint: 1.00 mm (along the axis at −6 dB, over notch mid-bore 0.25 mm, 0.5 mm long')
    expect(text).toContain('Coil footprint: not measured')
  })
})

describe('a report of how contact is shown', () => {
  it('has one column a check, and says of each scan what was not met or not looked at', () => {
    const examinations = whole.examinations.map(({ hash, document }, at) => {
      const [step, noise] = document.coverage.contact
      const contact =
        at === 0 ? [step!] : at === 1 ? [step!, { ...noise!, found: '0.004', met: false }] : [step!, noise!]
      return { hash, document: { ...document, coverage: { ...document.coverage, contact } } }
    })
    const said = plain(reportBlocks({ ...whole, examinations }))
    expect(said).toContain('Entry step against the reference scan: 0.7 to 1.4, within 15°: 0.97 in size, 2° in angle')
    expect(said).toContain('Place | Recording | Wall noise while in the metal: at least 0.010')
    expect(said).toContain('W-1 | hole-W-1.csv | not looked at')
    expect(said).toContain('W-2 | hole-W-2.csv | 0.004: NOT met')
    expect(said).toContain('W-3 | hole-W-3.csv | 0.031\n')
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
