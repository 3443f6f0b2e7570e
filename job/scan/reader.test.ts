/** What the reader makes of damage, gaps, ends and units; every recording here is built with known content. */
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { mappingOf, openScan, survey } from './index.ts'
import { LossList } from './losses.ts'
import { ascii, chunk, circle, concat, float32, int16, table, wav } from './testing/make.ts'
import { codeOf, cuttingFault, opened, readWhole, utf8 } from './testing/read.ts'

const STEP = 0.0005
const row = (k: number): string => `${(k * STEP).toFixed(4)},${circle(k)}`
const HEADER = 'time_s,x,y'
const text = (rows: number, make: (k: number) => string): Uint8Array => utf8(table(HEADER, rows, make))

describe('damaged rows', () => {
  const bad: Readonly<Record<number, string>> = {
    1200: '0.6000,overload,0.1',
    1201: '0.6005,overload,0.1',
    2500: '1.2500,nan,0.5',
    3100: '1.5500,0.5',
    3300: '1.6500,0.5,0.5,0.5'
  }
  const bytes = text(6000, (k) => bad[k] ?? row(k))
  const whole = readWhole(bytes, 'damaged.csv')

  it('are NaN in x and y, and time goes on', () => {
    const rows = Object.keys(bad).map(Number)
    expect(rows.map((k) => whole.x[k])).toEqual(rows.map(() => Number.NaN))
    expect(rows.map((k) => whole.y[k])).toEqual(rows.map(() => Number.NaN))
    expect(whole.aux.time?.[1200]).toBe(0.6)
    expect(whole.x[1202]).toBe(Number(circle(1202).split(',')[0]))
    expect(whole.numbers).toEqual(Array.from({ length: 6000 }, (_, k) => k))
  })

  it('are counted and listed with reasons, neighbors as one', () => {
    expect(whole.scan).toMatchObject({ samples: 6000, damaged: 5, missing: 0, rate_Hz: 2000 })
    expect(whole.scan.losses).toEqual([
      { kind: 'unreadable', first: 1200, last: 1201, reason: 'text where a number should be' },
      { kind: 'unreadable', first: 2500, last: 2500, reason: 'not a number (NaN or infinite)' },
      { kind: 'unreadable', first: 3100, last: 3100, reason: 'the row has too few cells' },
      { kind: 'unreadable', first: 3300, last: 3300, reason: 'the row has too many cells' }
    ])
  })

  it('one in a thousand is the limit', () => {
    const some = (count: number): string =>
      codeOf(
        text(4000, (k) => (k % 700 === 5 && k / 700 < count ? 'x,x,x' : row(k))),
        'a'
      )
    expect([some(4), some(5)]).toEqual(['read', 'scan/too-many-bad-rows'])
  })

  it('comment lines and blank lines are no rows', () => {
    const read = readWhole(
      text(2000, (k) => (k === 700 ? `# paused\n\n${row(k)}` : row(k))),
      'a.csv'
    )
    expect(read.scan).toMatchObject({ samples: 2000, damaged: 0, losses: [] })
    expect(read.scan.warnings.join()).toContain('1 comment line')
  })

  it('a comment is no row even where its cells could pass for one', () => {
    const bytes = utf8(table('note,x,y', 2000, (k) => (k === 700 ? `# 1,2,3\na,${circle(k)}` : `a,${circle(k)}`)))
    expect(readWhole(bytes, 'a.csv', { rate_Hz: 1 }).scan).toMatchObject({ samples: 2000, damaged: 0 })
  })
})

describe('gaps in time', () => {
  const lost = (k: number): number => (k < 300 ? k : k < 900 ? k + 1 : k + 41)
  const bytes = text(3000, (k) => `${(lost(k) * STEP).toFixed(4)},${circle(k)}`)
  const whole = readWhole(bytes, 'gaps.csv')

  it('show in the sample numbers', () => {
    expect(whole.numbers).toEqual(Array.from({ length: 3000 }, (_, k) => lost(k)))
    expect(whole.segments).toBe(3)
    expect(whole.scan).toMatchObject({ samples: 3000, missing: 41, rate_Hz: 2000 })
    expect(whole.scan.losses).toEqual([
      { kind: 'missing', first: 300, last: 300, reason: 'gap in the time stamps' },
      { kind: 'missing', first: 901, last: 940, reason: 'gap in the time stamps' }
    ])
  })

  it('show the same however the file is cut, a repeated header at the gap included', () => {
    const joined = utf8(new TextDecoder().decode(bytes).replace('\n0.1505,', `\n${HEADER}\n0.1505,`))
    expect(readWhole(joined, 'a').scan.losses[0]).toMatchObject({ kind: 'suspect', first: 300 })
    for (const lengths of [[1], [13], [4000, 1], [7001]])
      expect(cuttingFault(() => opened(joined, 'a'), joined, lengths)).toBeUndefined()
  })

  it('jitter below half a sample is none', () => {
    const jitter = text(3000, (k) => `${((k + 0.4 * Math.sin(k * k)) * STEP).toFixed(6)},${circle(k)}`)
    expect(readWhole(jitter, 'a').scan).toMatchObject({ missing: 0, losses: [] })
  })

  it('a clock set back for good is listed, and the rate is not bent', () => {
    const set = text(3000, (k) => `${((k < 1500 ? k : k - 800) * STEP).toFixed(4)},${circle(k)}`)
    const read = readWhole(set, 'a')
    expect(read.scan).toMatchObject({ rate_Hz: 2000, missing: 0, samples: 3000 })
    expect(read.scan.losses).toMatchObject([{ kind: 'suspect', first: 1500 }])
    expect(read.scan.losses[0]?.reason).toContain('stays set back')
  })
})

describe('the rate', () => {
  it('stated rules, and a contradiction is said', () => {
    const read = readWhole(text(500, row), 'a', { rate_Hz: 1000 })
    expect(read.scan.rate_Hz).toBe(1000)
    expect(read.scan.warnings.join()).toContain('2000 Hz')
  })

  it('is never the header of a sound file alone where one is stated', () => {
    const data = int16(Array.from({ length: 400 }, (_, k) => Math.round(900 * Math.sin(k))))
    expect(readWhole(wav(data), 'a.wav', { x: 0, y: 1 }).scan.rate_Hz).toBe(1000)
    const read = readWhole(wav(data), 'a.wav', { x: 0, y: 1, rate_Hz: 25600 })
    expect([read.rate_Hz, read.scan.warnings.length]).toEqual([25600, 1])
  })

  it('is taken from a line above the rows that states it', () => {
    const bytes = utf8(`Instrument: demo\nSampling rate: 12.8 kHz\n\n${table('x_V,y_V', 50, circle)}`)
    const seen = survey(bytes, 'a', bytes.length)
    expect(seen).toMatchObject({ rate_Hz: { value: 12800 }, certain: true })
    expect(readWhole(bytes, 'a').rate_Hz).toBe(12800)
  })

  it('a rate that drifts is said', () => {
    const slow = text(
      80_000,
      (k) => `${((k < 50_000 ? k : 50_000 + (k - 50_000) * 1.2) * STEP).toFixed(5)},${circle(k)}`
    )
    const read = readWhole(slow, 'a')
    expect(read.rate_Hz).toBe(2000)
    expect(read.scan.warnings.join()).toContain('over the whole recording')
  })
})

describe('ends', () => {
  const end = (tail: string): ReturnType<typeof readWhole> => readWhole(utf8(`${table(HEADER, 50, row)}${tail}`), 'a')

  it('a last row without a line end counts where its last cell is whole', () => {
    expect(end('0.0250,0.5000,0.2500').scan).toMatchObject({ samples: 51, damaged: 0, warnings: [] })
  })

  it('and is lost where its last number may be cut off', () => {
    const read = end('0.0250,0.5000,0.25')
    expect(read.scan).toMatchObject({ samples: 51, damaged: 1 })
    expect([read.x[50], read.scan.losses[0]?.first]).toEqual([Number.NaN, 50])
  })

  it('an endless line costs one row and no memory', () => {
    const long = concat([text(2000, row), utf8('7'.repeat(3_000_000)), utf8(`\n${row(2001)}\n`)])
    const read = readWhole(long, 'a')
    expect(read.scan).toMatchObject({ samples: 2002, damaged: 1 })
    expect(read.scan.losses[0]?.reason).toContain('1 MiB')
    expect(cuttingFault(() => opened(long, 'a'), long, [1_000_003, 65_536])).toBeUndefined()
  })

  it('NUL bytes behind the last line are said', () => {
    const read = readWhole(concat([text(50, row), new Uint8Array(2_500_000)]), 'a')
    expect(read.scan).toMatchObject({ samples: 50, damaged: 0 })
    expect(read.scan.warnings.join()).toContain('NUL')
  })
})

describe('sound files', () => {
  const values = Array.from({ length: 400 }, (_, k) => Math.round(9000 * Math.sin(k)))
  const read = (bytes: Uint8Array): ReturnType<typeof readWhole> => readWhole(bytes, 'a.wav', { x: 0, y: 1 })

  it('bytes behind the stated end of the data are not passed over in silence', () => {
    const { scan } = read(wav(int16(values), { length: 400 }))
    expect(scan).toMatchObject({ samples: 100, missing: 100 })
    expect(scan.losses).toMatchObject([{ kind: 'missing', first: 100, last: 199 }])
  })

  it('a second data chunk and a wrong byte rate are said', () => {
    const { scan } = read(wav(int16(values), { behind: chunk('data', int16([1, 2])), bytesPerSecond: 5 }))
    expect(scan.samples).toBe(200)
    expect(scan.warnings).toHaveLength(2)
  })

  it('NaN and infinity are damage', () => {
    const data = Array.from({ length: 8000 }, (_, k) => Math.sin(k))
    data[100] = Number.NaN
    data[2001] = Number.POSITIVE_INFINITY
    const got = read(wav(float32(data), { tag: 3, bits: 32 }))
    expect(got.scan).toMatchObject({ damaged: 2, samples: 4000 })
    expect(got.scan.losses.map((loss) => loss.first)).toEqual([50, 1000])
    expect([got.x[1000], got.y[1000]]).toEqual([Number.NaN, Number.NaN])
  })

  it('a chunk of more than the head before the data is walked through', () => {
    const bytes = wav(int16(values), { behind: ascii('') })
    const late = concat([bytes.slice(0, 36), chunk('JUNK', new Uint8Array(1_500_000)), bytes.slice(36)])
    expect(read(late).scan.samples).toBe(200)
  })

  it('segments hold at most 65536 samples', () => {
    const data = int16(Array.from({ length: 300_000 }, (_, k) => (k * 7919) % 30_000))
    const got = read(wav(data))
    expect([got.scan.samples, got.longest]).toEqual([150_000, 65_536])
  })
})

const ambiguous = (k: number): string => `1,${100 + ((k * 37) % 50)};2,${300 - ((k * 11) % 50)}`

describe('units', () => {
  it('time and position are SI whatever the header says', () => {
    const bytes = utf8(table('t (ms),pos [in],x,y', 50, (k) => `${k / 2},${k / 10},${circle(k)}`))
    const read = readWhole(bytes, 'a')
    expect(read.aux.time?.[3]).toBeCloseTo(0.0015, 15)
    expect(read.aux.position?.[10]).toBeCloseTo(0.0254, 15)
    expect(read.rate_Hz).toBe(2000)
  })

  it('may be stated', () => {
    const bytes = utf8(table('t,z,x,y', 50, (k) => `${k / 2},${k / 10},${circle(k)}`))
    const read = readWhole(bytes, 'a', {
      x: 'x',
      y: 'y',
      time: 't',
      position: 'z',
      units: { time: 'ms', position: 'mm' }
    })
    expect([read.rate_Hz, read.aux.position?.[10]]).toEqual([2000, 0.001])
  })

  it('an ambiguous decimal mark is settled by stating it', () => {
    const bytes = utf8(table('x;y', 50, ambiguous))
    expect(codeOf(bytes, 'a', { rate_Hz: 1 })).toBe('scan/uncertain-numbers')
    expect(readWhole(bytes, 'a', { rate_Hz: 1, decimal: ',' }).x[0]).toBe(1.1)
    expect(readWhole(bytes, 'a', { rate_Hz: 1, decimal: '.' }).x[0]).toBe(1100)
  })
})

describe('losses', () => {
  it('join neighbors of one kind and reason', () => {
    const list = new LossList()
    for (const at of [3, 4, 5, 7]) list.add({ kind: 'unreadable', first: at, last: at, reason: 'a' })
    expect(list.all.map(({ first, last }) => [first, last])).toEqual([
      [3, 5],
      [7, 7]
    ])
  })

  it('stay bounded, and the last one covers the rest', () => {
    const list = new LossList()
    for (let k = 0; k < 5000; k++) list.add({ kind: 'unreadable', first: 2 * k, last: 2 * k, reason: 'a' })
    expect(list.all).toHaveLength(256)
    expect(list.all.at(-1)).toMatchObject({ kind: 'suspect', first: 510, last: 9998 })
  })
})

describe('the mapping', () => {
  it('drops a guess whose column a person took, and obeys "none"', () => {
    const bytes = utf8(table('time_s,x,y,index', 50, (k) => `${row(k)},${k % 10 === 0 ? 1 : 0}`))
    const seen = survey(bytes, 'a', bytes.length)
    if (isRefusal(seen)) throw new Error(seen.code)
    expect(mappingOf(seen)).toMatchObject({ x: 1, y: 2, time: 0, index: 3, units: { time: 1 } })
    expect(mappingOf(seen, { absolute: 'index' })).not.toHaveProperty('index')
    expect(mappingOf(seen, { index: null })).not.toHaveProperty('index')
    expect(mappingOf(seen, { x: 'y', y: 'x' })).toMatchObject({ x: 2, y: 1 })
  })

  it('reads the same recording again from the same bytes', () => {
    const bytes = text(50, row)
    const open = (): ReturnType<typeof openScan> => openScan(bytes, 'a', { x: 1, y: 2, time: 0 }, bytes.length)
    expect(cuttingFault(open, bytes, [5])).toBeUndefined()
  })
})
