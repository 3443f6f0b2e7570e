import { describe, expect, it } from 'vitest'
import type { Block } from './blocks.ts'
import { type Content, ofPlace, ofReport } from './contents.ts'
import type { EntryOf } from './kinds.ts'
import { replay } from './replay.ts'
import { reportBlocks } from './report.ts'
import type { ReportInput } from './report-input.ts'
import type { PlaceState } from './state.ts'
import { chainOfEntries, head, inventedReport, kept, opened, plain } from './testing/index.ts'

/** The answers that a section gives under a label: values of facts, cells of a column, a whole table, a sentence. */
function answersOf(blocks: readonly Block[], label: string): readonly string[] {
  return blocks.flatMap((block): readonly string[] => {
    if (block.block === 'facts') return block.facts.flatMap((one) => (one.label === label ? [factText(one)] : []))
    if (block.block === 'table' && block.caption === label) return [plain([block])]
    if (block.block === 'table') {
      const at = block.columns.findIndex((column) => column.label === label)
      return at < 0 ? [] : block.rows.map((row) => row[at]?.text ?? '')
    }
    if (block.block === 'heading') return block.title.startsWith(label) ? [block.title] : []
    if (block.block === 'caution') return block.title.startsWith(label) ? [`${block.title}. ${block.text}`] : []
    return block.block === 'paragraph' && block.text.startsWith(label) ? [block.text] : []
  })
}

const factText = ({ value, known }: { readonly value: string; readonly known?: string }) =>
  known === undefined ? value : `${value} (${known})`

/** The blocks under a title, up to the next title of that height; the head of the report under its own. */
function sectionOf(blocks: readonly Block[], title: string): readonly Block[] {
  const isIt = (head: string, level: number) => (level === 1 ? head.startsWith(title) : level === 2 && head === title)
  const from = blocks.findIndex((block) => block.block === 'heading' && isIt(block.title, block.level))
  if (from < 0) return []
  const end = blocks.findIndex((block, at) => at > from && block.block === 'heading' && block.level < 3)
  return blocks.slice(from, end < 0 ? undefined : end)
}

const at = { time: '2026-03-15T08:00:00Z', known: 'clock of this computer' } as const
const signed = { person: '0'.repeat(64), over: '0'.repeat(64), value: `${'A'.repeat(86)}==` }
const byB = { version: 1, at, by: { kind: 'person', name: 'B. Invented' }, signed } as const

const told = {
  ...{ laboratory: 'Invented Laboratory, 1 Invented Street', client: 'Invented Air', place: 'hangar 2' },
  ...{ condition: 'dismantled, clean', surface: 'bare bore, 1.6 µm', standard_followed: 'ISO 15549:2019' },
  ...{ data_review: 'every map by a second person', deviations: 'none' },
  retention: { years: 10, basis: 'contract 7, invented' }
}

/** What people have said and decided of a place. */
function decidedOf(place: PlaceState): Partial<PlaceState> {
  const subject = { of: 'hole', name: place.place.name } as const
  const done = { by: 'A. Invented', on: '2026-03-14' }
  return {
    place: { ...place.place, oversize_step: 'first, 1/64 in' },
    preparation: {
      ...{ kind: 'place-prepared', id: 'prepared', ...byB, subject, cleaned: done, deburred: 'yes', signed: false },
      ...{ visual: 'no marks', photo: 'ab'.repeat(32), measured_diameter_mm: 6.412, out_of_round_mm: 0.01 },
      ...{ gauge_uncertainty_mm: 0.004, gauge: 'INV-G', measured: done }
    },
    disposition: { kind: 'disposed', id: 'disposed', ...byB, subject, disposition: 'refer', seen: [] },
    looks: [{ kind: 'second-look', id: 'look', ...byB, subject, of: 'disposed', agrees: true }]
  }
}

/** The invented job with what people have said of it and decided, a second look, notes, sizes with intervals, a rate and a clock. */
function rich(): ReportInput {
  const whole = inventedReport()
  const size = {
    ...{ depth: 'about 0.61 mm', depth_mm: 0.61, lower_mm: 0.5, upper_mm: 0.78, level: 0.95 },
    ...{ extent: '1.20 mm', withheld: [], length: '0.90 mm (0.70 to 1.10)', footprint_mm: 1.3 }
  }
  const examinations = whole.examinations.map(({ hash, document }) => ({
    hash,
    document: {
      ...document,
      notes: ['2 missing index marks filled in'],
      position: { ...document.position, angle: 'clock' as const },
      indications: document.indications.map((one) => ({ ...one, size }))
    }
  }))
  const second = { file: 'hole-W-2b.csv', sha256: 'x', after: 'cleaned and entered again' as const, looked: true }
  const recordings = whole.state.recordings.map((one) => ({ ...one, rate_Hz: 20_480 }))
  const places = whole.state.places.map((place) => ({
    ...place,
    ...decidedOf(place),
    joined: place.joined.map((one) => ({ ...one, unseen: [second as never] }))
  }))
  const standards = whole.standards.map(({ hash, document }) => ({
    hash,
    document: { ...document, certificate: 'INV-C 77' }
  }))
  const { opened: first } = whole.state
  const opened = { ...first, job: { ...first.job, ...told } }
  const closed = { kind: 'job-closed', id: 'closed', ...byB } as const
  return { ...whole, examinations, standards, state: { ...whole.state, opened, closed, recordings, places } }
}

const bare = (): ReportInput => {
  const { technique: _, ...whole } = inventedReport()
  const job = { ...opened('J', ['1', '2']), people: [] }
  return {
    ...{ ...whole, state: replay(chainOfEntries('J', [job])), registered: [], standards: [] },
    standardizations: [],
    ...{ examinations: [], refused: [] }
  }
}

const notYet = /^not stated/

/** What the rich record says to each line; what no record holds yet is not stated, and said so. */
const expected: Readonly<Record<string, RegExp>> = {
  title: /^Examination record INV-7$/,
  laboratory: /^Invented Laboratory, 1 Invented Street$/,
  place: /^hangar 2$/,
  'unique number': /^INV-7$/,
  client: /^Invented Air$/,
  method: /^eddy current, fastener hole/,
  'item description and identity': /^Wing panel, serial 0042/,
  'item condition': /^dismantled, clean$/,
  'dates of the work': /^2026-03-14 09:20:00 to 2026-03-14 09:30:00/,
  'date of the report': /^2026-03-14 12:00:00Z/,
  'results with units': /^78 %, −2\.2 dB to the named notch \(above the alarm level\)$/,
  'name, function and signature of the releasing person':
    /^B\. Invented, level III, 2026-03-15 .*signed with their key/,
  retention: /^10 years from the approval for return to service \(contract 7, invented; .*14 CFR 145\.219\)$/,
  'results relate only to the items examined': /^The results relate only to the places named here/,
  'standard and its date': /^ISO 15549:2019$/,
  'places measured': /^W-1$/,
  'number of readings': /^61440$/,
  'mean and deviation of the readings': /^5 %$/,
  operator: /^A\. Invented, level II, certificate INV-2201/,
  'unusual features': /W-1 \| hole-W-1\.csv \| 2 missing index marks filled in/,
  'deviations from the procedure': /^none$/,
  'instrument, maker and model': /^Invented One, INV-INS 1 \(entered by A\. Invented\)$/,
  probe: /^INV-P 635 /,
  'reference standard with its validation': /^INV-C 77$/,
  'software title and version': /^Trueloop 0\.0\.0-invented/,
  frequencies: /^500 kHz/,
  'reporting thresholds': /^50 % of notch mid-bore 0\.5 mm/,
  'data review': /^every map by a second person$/,
  'procedure number and revision': /^INV-ET-12, revision C/,
  'surface and coating': /^bare bore, 1\.6 µm$/,
  'reference block': /^INV-STD-3/,
  'set-up values': /^34 dB /,
  'check values': /recheck-2\.csv \| mid-bore 0\.5 mm \| −28\.4 % \| ± 10 %/,
  'extent examined': /^Examined: whole wall, 36 of 36 revolutions\./,
  'extent not examined': /W-6 \| not examined \| all \| hole-W-6\.csv was refused/,
  limitations: /^Capability: detectable size not demonstrated for this set-up\./,
  indications: /W-2 \| W-2\/1 \| relevant/,
  'acceptance criteria': notYet,
  'certificates of personnel': /^INV-2201$/,
  'verification of the equipment, and until when it holds': /^revision C from 2025-06-01$/,
  hole: /^W-1$/,
  zone: /^layer 1 entry corner to layer 2 exit corner \(6 zones\)$/,
  layers: /^2024-T3, 7075-T6$/,
  'nominal diameter': /^6\.35 mm$/,
  'measured diameter': /^6\.412 mm$/,
  'oversize step': /^first, 1\/64 in$/,
  'standard used': /^INV-STD-3$/,
  'file name': /^hole-W-1\.csv$/,
  'hash of the file': /^[0-9a-f]{64}$/,
  start: /^2026-03-14 09:20:00 \(job sheet\)$/,
  end: /^3\.0 s$/,
  'check before': /^reference-1\.csv: standardized$/,
  'check after': /^recheck-1\.csv: passed$/,
  result: /^relevant, not decided$/,
  'reason where not examined': /^hole-W-6\.csv was refused: found 312 samples/,
  'clock angle': /^11:40 o'clock/,
  'depth from the face': /^4\.10 mm, from 3\.50 mm to 4\.70 mm \(entry and exit edges.*± 0\.18 mm\)$/s,
  'layer of the finding': /^layer 1 exit corner/,
  'amplitude in % and dB to the notch': /^78 %, −2\.2 dB to the named notch/,
  phase: /^68° modulo 180°/,
  length: /^0\.90 mm \(0\.70 to 1\.10\)/,
  'depth with its interval': /^0\.61 mm, from 0\.50 mm to 0\.78 mm \(interval of 95 %/,
  class: /^relevant$/,
  disposition: /^refer, B\. Invented$/,
  inspector: /^A\. Invented$/,
  'second look': /^B\. Invented: agrees; hole-W-2b\.csv \(cleaned and entered again\): not found$/,
  'visual finding': /^no marks$/,
  photo: /^abababab/
}

const all: readonly Content[] = [...ofReport, ...ofPlace]
const inSections = all.filter(({ section }) => section !== 'foot of each page')

describe('what a report must hold', () => {
  const blocks = reportBlocks(rich())
  const empty = reportBlocks(bare())

  it('is checked line by line', () => {
    expect(inSections.map(({ line }) => line).sort()).toEqual(Object.keys(expected).sort())
    expect(new Set(all.map(({ line }) => line)).size).toBe(all.length)
  })

  it.each(inSections.map((one) => [one.line, one] as const))('answers: %s', (line, { section, label }) => {
    const answers = answersOf(sectionOf(blocks, section), label)
    expect(answers.filter((answer) => expected[line]?.test(answer.replaceAll('\u00a0', ' ')))).not.toEqual([])
  })

  it.each(inSections.map((one) => [one.line, one] as const))(
    'says of a record that holds nothing of it that it is not stated: %s',
    (_, { section, label, otherwise = 'not stated' }) => {
      const own = sectionOf(empty, section)
      const answers = answersOf(own, label)
      const isThere = answers.some((answer) => answer.trim() !== '')
      expect(isThere || plain(own).includes(`${label}: not stated`) || plain(own).includes(otherwise)).toBe(true)
      expect(plain(own)).toMatch(/\S/)
    }
  )

  it('never leaves an answer empty', () => {
    for (const some of [blocks, empty])
      for (const block of some) {
        if (block.block === 'facts')
          for (const { label, value } of block.facts) expect([label, value.trim()]).not.toEqual([label, ''])
        if (block.block === 'table')
          for (const row of block.rows) expect(row.map(({ text }) => text.trim())).not.toContain('')
      }
  })

  it('shows a correction with what stood there before, and what is withdrawn', () => {
    const said = plain(sectionOf(blocks, 'Record'))
    expect(said).toContain('entry 7, recording-kept')
    expect(said).toContain('taken.time: "2026-03-14T09:30:00"')
    expect(said).toContain('taken.time: "2026-03-14T09:20:00"')
    const first = opened('J', ['1'])
    const second = { ...kept('r', { of: 'reference' }), at: first.at }
    const withdrawn = { kind: 'corrected', version: 1, ...head(), corrects: second.id, reason: 'no scan' } as const
    const rows = chainOfEntries('J', [first, second, { ...withdrawn, becomes: 'withdrawn' }])
    const text = plain(reportBlocks({ ...bare(), state: replay(rows) }))
    expect(text).toMatch(/entry 1, recording-kept \| as it was written \| withdrawn \| A\. Invented, unsigned/)
  })

  it('shows a handover between shifts, taken or not', () => {
    const handed = { kind: 'handed-over', id: 'handed', ...byB, to: 'A. Invented', note: 'W-8 is left' } as const
    const taken = { kind: 'taken-over', id: 'taken', ...byB, of: 'handed' } as const
    const saying = (handovers: ReportInput['state']['handovers']) =>
      plain(reportBlocks({ ...rich(), state: { ...rich().state, handovers } }))
    expect(saying([{ handed }])).toMatch(/B\. Invented \| A\. Invented \| W-8 is left \| not yet/)
    expect(saying([{ handed, taken }])).toMatch(/W-8 is left \| 2026-03-15/)
  })

  it('says once that no detectable size is demonstrated', () =>
    expect(plain(blocks).match(/detectable size not demonstrated/gi)).toHaveLength(1))

  it('says instead what a Level III has attached, and nothing else', () => {
    const { state } = rich()
    const capability: EntryOf<'capability-attached'> = {
      ...{ kind: 'capability-attached', version: 1, id: 'shown', words: 'a90/95 0.8 mm, corner, 7075-T6.' },
      ...{
        at: { time: '2026-03-01T08:00:00Z', known: 'clock of this computer' },
        by: { kind: 'person', name: 'B. Invented' }
      },
      source: 'report 12, invented',
      conditions: { technique: '0'.repeat(64), method: 1 },
      signed: { person: '0'.repeat(64), over: '0'.repeat(64), value: `${'A'.repeat(86)}==` }
    }
    const said = plain(reportBlocks({ ...rich(), state: { ...state, capability } }))
    expect(said).toContain('a90/95 0.8 mm, corner, 7075-T6. Source: report 12, invented. Attached by B. Invented.')
    expect(said).not.toMatch(/not demonstrated/i)
  })
})
