/**
 * One real recording in awkward packaging, read where it lies. Truth: the same recording as plain CSV
 * (`freq_sweep_flaw_scan/var_peq_10.csv`), split by the language itself; sample counts and rates from the outside
 * README, section 4; values of WAV files as scipy.io.wavfile 1.10.1 reads them.
 */
import { readFileSync } from 'node:fs'
import { isRefusal } from '@trueloop/ground/refusal'
import { expect, it } from 'vitest'
import { needsOutside, outside } from '../../../house/outside.ts'
import { mappingOf, type Overrides, openScan, type Survey, survey } from '../index.ts'
import { codeOf, cuttingFault, opened, readWhole, type Whole } from '../testing/read.ts'

needsOutside('outside/quirk_files', 'quirk files', (folder) => {
  const bytesOf = (name: string): Uint8Array => new Uint8Array(readFileSync(`${folder}/${name}`))
  const plain = readFileSync(outside('outside/freq_sweep_flaw_scan/var_peq_10.csv') as string, 'utf8')
  const truth = plain
    .trim()
    .split('\n')
    .map((line) => line.split(',').map(Number) as [number, number, number])
  const column = (at: 0 | 1 | 2): number[] => truth.map((row) => row[at])
  const read = (name: string, overrides: Overrides = {}): Whole => {
    const bytes = bytesOf(name)
    expect(cuttingFault(() => opened(bytes, name, overrides), bytes, [1, 7, 1000])).toBeUndefined()
    return readWhole(bytes, name, overrides)
  }
  const look = (name: string): Survey => {
    const bytes = bytesOf(name)
    const seen = survey(bytes, name, bytes.length)
    if (isRefusal(seen)) throw new Error(seen.code)
    return seen
  }
  /** t has no unit: a person confirms it, and seconds with it. */
  const T = { time: 't' }
  const expectSignal = (whole: Whole, count = truth.length): void => {
    expect(Array.from(whole.x)).toEqual(column(1).slice(0, count))
    expect(Array.from(whole.y)).toEqual(column(2).slice(0, count))
  }
  const expectPlain = (whole: Whole): void => {
    expectSignal(whole)
    expect(Array.from(whole.aux.time as Float64Array)).toEqual(column(0))
    expect(whole.scan).toMatchObject({ rate_Hz: 256, samples: 1279, damaged: 0, missing: 0, losses: [], warnings: [] })
  }

  it('the plain file has 1279 samples', () => {
    expect(truth).toHaveLength(1279)
  })

  it.each([
    'q01_semicolon_decimal_comma.csv',
    'q02_bom_crlf.csv',
    'q04_utf16le_no_bom.csv',
    'q10_sep_line.csv',
    'q13_bare_cr.csv'
  ])('%s reads like the plain file', (name) => {
    expectPlain(read(name, T))
  })

  it('q02: the first name is t', () => {
    expect(look('q02_bom_crlf.csv').columns.map((one) => one.name)).toEqual(['t', 'R', 'X'])
  })

  it('q05: a block of NUL where the last lines should be', () => {
    const text = new TextDecoder().decode(bytesOf('q05_nul_tail.csv')).split('\n')
    const sound = text.filter((line) => line !== '' && !line.includes('\0')).length
    const whole = read('q05_nul_tail.csv', { time: 0, x: 1, y: 2 })
    expectSignal({ ...whole, x: whole.x.subarray(0, sound), y: whole.y.subarray(0, sound) }, sound)
    expect(whole.scan.damaged).toBe(1)
    expect(whole.scan.losses).toMatchObject([{ kind: 'unreadable', first: sound, last: sound }])
    expect(whole.scan.warnings.join()).toContain('NUL')
  })

  it('q07: three header rows are shown and understood', () => {
    const seen = look('q07_three_header_rows.csv')
    expect(seen.headerRows).toBe(3)
    expect(seen.columns.map((one) => one.name)).toEqual(['TIME s', 'CH1 V re', 'CH1 V im'])
    expect(seen.columns.map((one) => one.unit)).toEqual(['s', 'V', 'V'])
    expect(seen.certain).toBe(true)
    expectPlain(read('q07_three_header_rows.csv'))
  })

  it('q08: comment lines are kept as notes, channels without meaning are asked for', () => {
    const seen = look('q08_comment_preamble.csv')
    expect(seen.notes).toEqual(['#Acquisition', '#Date Time: 2021-04-14 13:10:34.255.812.740'])
    expect(codeOf(bytesOf('q08_comment_preamble.csv'), 'q08')).toBe('scan/uncertain-columns')
    expectPlain(read('q08_comment_preamble.csv', { x: 'Channel 1', y: 'Channel 2 (V)' }))
  })

  it('q11: quoted numbers with thousands commas', () => {
    const whole = read('q11_thousands.csv', { rate_Hz: 256 })
    expectSignal(whole)
    expect(whole.aux.position?.[1]).toBeCloseTo(3906e-6, 15)
    expect(whole.aux.position?.[1278]).toBeCloseTo(4_992_188e-6, 12)
    expect(codeOf(bytesOf('q11_thousands.csv'), 'q11')).toBe('scan/no-rate')
  })

  it('q14: a repeated header is dropped, said and listed', () => {
    const whole = read('q14_repeated_header.csv', T)
    expectSignal(whole)
    expect(whole.scan.losses).toMatchObject([{ kind: 'suspect', first: 600, last: 600 }])
    expect(whole.scan.warnings.join()).toContain('repeated header')
  })

  it('q16: a last row without its last value is not padded', () => {
    const whole = read('q16_missing_last_value.csv', T)
    expectSignal({ ...whole, x: whole.x.subarray(0, 1278), y: whole.y.subarray(0, 1278) }, 1278)
    expect([whole.x[1278], whole.y[1278]]).toEqual([Number.NaN, Number.NaN])
    expect(whole.scan.losses).toMatchObject([{ kind: 'unreadable', first: 1278, last: 1278 }])
  })

  it('q17: 12 500 columns are read', () => {
    expect(look('q17_long_header.csv').columns).toHaveLength(12_500)
    const whole = read('q17_long_header.csv', { x: 'ch000000', y: 'ch012499', rate_Hz: 256 })
    expect([Array.from(whole.x), Array.from(whole.y)]).toEqual([[1], [0]])
  })

  it.each(['q19_time_rounded_duplicates.csv', 'q23_block_timestamps.csv'])('%s: the trend, not the stamps', (name) => {
    const whole = read(name, T)
    expectSignal(whole)
    expect(whole.rate_Hz).toBeCloseTo(256, 0)
    expect(whole.scan.rate_Hz).toBeCloseTo(256, 0)
    expect(whole.scan.warnings.join()).toContain('time stamps are coarse')
  })

  it('q20: the fraction that vanishes on whole seconds', () => {
    const whole = read('q20_time_drops_fraction.csv')
    expectSignal(whole)
    expect(whole.scan).toMatchObject({ rate_Hz: 256, losses: [], warnings: [] })
    expect((whole.aux.time?.[256] ?? 0) - (whole.aux.time?.[0] ?? 0)).toBeCloseTo(1, 9)
  })

  it('q22: stamps that jump back are flagged, nothing is sorted', () => {
    const whole = read('q22_time_steps_back.csv', T)
    expectSignal(whole)
    expect(whole.scan).toMatchObject({ rate_Hz: 256, samples: 1279, missing: 0 })
    expect(whole.scan.losses).toMatchObject([{ kind: 'suspect', first: 700, last: 701 }])
    expect(whole.scan.warnings.join()).toContain('run back')
  })

  it('q25: Latin-1 in the header', () => {
    expect(look('q25_latin1_micro_degree.csv').columns.map((one) => one.name)).toEqual([
      'Zeit (µs)',
      'R (V)',
      'Phase (°)'
    ])
    expectSignal(read('q25_latin1_micro_degree.csv', { x: 'R', y: 'Phase' }))
  })

  it('q26: both ways to write micro are one unit', () => {
    const seen = look('q26_greek_mu_vs_micro.csv')
    expect(seen.columns.map((one) => one.unit)).toEqual(['µs', 'µV', 'µV'])
    const whole = read('q26_greek_mu_vs_micro.csv')
    expectSignal(whole)
    expect(whole.scan).toMatchObject({ rate_Hz: 256e6, channelUnit: 'µV' })
  })

  it('q28: an exponent without its letter is never read', () => {
    expect(codeOf(bytesOf('q28_exponent_without_letter.csv'), 'q28')).toBe('scan/unreadable-numbers')
  })

  it('q29: a complex cell is two channels', () => {
    const whole = read('q29_python_complex.csv', { rate_Hz: 256 })
    expectSignal(whole)
    expect(whole.aux.position?.[1]).toBeCloseTo(3.906e-6, 15)
  })

  const XY = { x: 0, y: 1 }
  const FULL = 2 ** 31
  /** First and last frame as scipy.io.wavfile 1.10.1 returns them (int32), and the recipe: half the recorded numbers. */
  it.each(['q31_wav_ext32_valid24.wav', 'q32_wav_ext_oversized_fmt.wav'])('%s: 24 bits, left-justified', (name) => {
    const whole = read(name, XY)
    expect([whole.x[0], whole.y[0]]).toEqual([-15444480 / FULL, -28563456 / FULL])
    expect([whole.x[1278], whole.y[1278]]).toEqual([13691136 / FULL, -64175360 / FULL])
    expectScaled(whole, 2, 2 ** -22)
  })

  const expectScaled = (whole: Whole, factor: number, within: number): void => {
    expect(whole.scan).toMatchObject({ samples: 1279, rate_Hz: 256 })
    const worst = truth.map(([, x, y], row) =>
      Math.max(Math.abs(factor * (whole.x[row] ?? 9) - x), Math.abs(factor * (whole.y[row] ?? 9) - y))
    )
    expect(Math.max(...worst)).toBeLessThan(within)
  }

  it.each(['q34_wav_data_zero.wav', 'q35_wav_riff_size_wrong.wav', 'q40_wav_junk_before_fmt.wav'])('%s', (name) => {
    const whole = read(name, XY)
    expect([whole.x[0], whole.y[0], whole.x[1278], whole.y[1278]]).toEqual(
      [-235, -435, 208, -979].map((value) => value / 32768)
    )
    expectScaled(whole, 2, 2 ** -13)
    expect(whole.scan.warnings.length > 0).toBe(name.startsWith('q34'))
  })

  it('q37: floating point beyond ±1 is not clipped', () => {
    const whole = read('q37_wav_float_over_one.wav', XY)
    expectScaled(whole, 1 / 3, 2 ** -22)
    expect(Math.max(...whole.x.map(Math.abs), ...whole.y.map(Math.abs))).toBeGreaterThan(1)
  })

  it('q38: RF64', () => {
    expectScaled(read('q38_wav_rf64.wav', XY), 1, 2 ** -23)
  })

  it('q41: swapped channels can be swapped back', () => {
    expectScaled(read('q41_wav_swapped_iq.wav', { x: 1, y: 0 }), 2, 2 ** -13)
  })

  it('sound files without names are never certain', () => {
    expect(look('q35_wav_riff_size_wrong.wav').certain).toBe(false)
    expect(codeOf(bytesOf('q35_wav_riff_size_wrong.wav'), 'q35')).toBe('scan/uncertain-columns')
  })

  it.each(['q43_h5_truncated.h5', 'q44_h5_transposed_compound.h5'])('%s: said to be HDF5', (name) => {
    const bytes = bytesOf(name)
    expect(survey(bytes, name, bytes.length)).toMatchObject({ code: 'scan/unknown-format', found: 'an HDF5 file' })
  })
})

needsOutside('outside/freq_sweep_flaw_scan', '25 real sweeps without a header', (folder) => {
  it('are guessed, and examined only when confirmed', () => {
    for (let setting = 1; setting <= 25; setting++) {
      const bytes = new Uint8Array(readFileSync(`${folder}/var_peq_${setting}.csv`))
      const seen = survey(bytes, 'sweep', bytes.length)
      if (isRefusal(seen)) throw new Error(seen.code)
      expect(seen.columns.map((column) => column.role)).toEqual(['time', 'x', 'y'])
      expect(mappingOf(seen)).toMatchObject({ code: 'scan/uncertain-columns' })
      const whole = readWhole(bytes, 'sweep', { time: 0, x: 1, y: 2 })
      expect(whole.scan).toMatchObject({ rate_Hz: 256, samples: 1279, losses: [] })
    }
  })
})

needsOutside('trial', 'trial recordings', (folder) => {
  const head = (name: string): Uint8Array => new Uint8Array(readFileSync(`${folder}/${name}`))

  it.each([
    ['al-quarter/hole-05.csv', 25600, ['time', 'x', 'y', 'index']],
    ['ti-three-eighths/hole-05.csv', 10000, ['time', 'x', 'y', 'index']],
    ['weld-toe/weld-01.csv', 1000, ['time', 'position', 'x', 'y', 'absolute']]
  ] as const)('%s is certain', (name, rate, roles) => {
    const bytes = head(name)
    const seen = survey(bytes, name, bytes.length)
    if (isRefusal(seen)) throw new Error(seen.code)
    expect(seen.certain).toBe(true)
    expect(seen.columns.map((column) => column.role)).toEqual(roles)
    const mapping = mappingOf(seen)
    if (isRefusal(mapping)) throw new Error(mapping.code)
    const reader = openScan(bytes, name, mapping, bytes.length)
    if (isRefusal(reader)) throw new Error(reader.code)
    expect(reader.rate_Hz).toBe(rate)
  })

  it('a sound file is a guess: x, y, index', () => {
    const bytes = head('al-quarter/hole-01.wav')
    const seen = survey(bytes, 'hole-01.wav', bytes.length)
    if (isRefusal(seen)) throw new Error(seen.code)
    expect(seen.columns.map((column) => column.role)).toEqual(['x', 'y', 'index'])
    expect(mappingOf(seen)).toMatchObject({ code: 'scan/uncertain-columns' })
    expect(mappingOf(seen, { x: 0, y: 1, index: 2 })).toMatchObject({ x: 0, y: 1, index: 2 })
  })
})
