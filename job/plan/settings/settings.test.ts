/**
 * Oracles: the arithmetic of the line that was written out by hand, monotony that physics demands, figures of the trade
 * (reference/trade.json) and the Python script of the crack model for the fall with lift-off.
 */

import { hertz, meters, siemensPerMeter } from '@trueloop/ground/quantity'
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { bellWidth } from '../footprint.ts'
import { sheetOf } from '../read.ts'
import { loopSheet, plannableSheet } from '../testing/plannable.ts'
import { modeledAnswer } from './answer.ts'
import trade from './reference/trade.json' with { type: 'json' }
import { type Settings, settingsOf } from './settings.ts'

type Change = (sheet: ReturnType<typeof plannableSheet>) => void

/** Few frequencies: each is a model of its own. */
const sweep = [100, 200, 300, 400, 500, 700, 1000, 2000]

function worked(change: Change = () => {}) {
  const value = plannableSheet()
  change(value)
  const read = sheetOf(value)
  if ('refusals' in read) throw new Error(JSON.stringify(read.refusals))
  return settingsOf(read.sheet, sweep)
}

/** The sheet as it is, worked out once. */
const plain = worked()

function good(change?: Change): Settings {
  const settings = change === undefined ? plain : worked(change)
  if (isRefusal(settings)) throw new Error(JSON.stringify(settings))
  return settings
}

const codeOf = (change: Change) => {
  const found = worked(change)
  return isRefusal(found) ? found.code : 'no refusal'
}

/** The row of the mid-bore, with the line of its worst case. */
function midBore(settings: Settings) {
  const row = settings.zones.find(({ zones }) => zones.kind === 'mid-bore')!
  if (typeof row.worst === 'string' || typeof row.at === 'string') throw new Error(String(row.worst))
  return { ...row, worst: row.worst, at: row.at }
}

const factorOf = (settings: Settings, of: string) => midBore(settings).worst.factors.find((one) => one.of === of)!
const warned = (settings: Settings): readonly string[] =>
  [...settings.warnings, ...settings.zones.flatMap(({ warnings }) => warnings)].map(({ of }) => of)

describe('the line of the worst allowed case', () => {
  const settings = good((sheet) => {
    sheet.technique.allowed = { wear_mm: 0.05, temperature_C: { low: 10, high: 40 }, noise_share: 0.1 }
    sheet.technique.oversize = { max_loss_dB: 1 }
    sheet.response_ratios = [
      {
        trueloop: 'response-ratio/1',
        name: 'ratio of the test (invented)',
        kinds: ['mid-bore'],
        metal: 'aluminum 7075-T6',
        frequency_kHz: { least: 200, most: 600 },
        probe_type: 'differential',
        depth_mm: { least: 0.2, most: 2 },
        cracks: 20,
        source: 'invented',
        ratio: 0.8,
        spread: 0.1,
        approved: { by: 'B', level: 'III', on: '2026-03-01' }
      }
    ]
  })
  const { worst } = midBore(settings)

  it('is the product of its factors, against alarm level and noise in dB', () => {
    const product = worst.factors.reduce((all, { share }) => all * share, 1)
    expect(worst.amplitude).toBeCloseTo(product, 12)
    expect(worst.over_alarm_dB).toBeCloseTo(20 * Math.log10(product / 0.5), 9)
    expect(worst.over_noise_dB).toBeCloseTo(20 * Math.log10(product / 0.1), 9)
    expect(worst.not_stated).toEqual([])
  })

  it('takes from a notch what an approved ratio leaves to 19 of 20 cracks, 1.645 of its spread below it', () => {
    expect(factorOf(settings, 'crack against notch of its size').share).toBeCloseTo(0.8 - 1.645 * 0.1, 12)
  })

  it('takes what the technique allows: 1 dB of oversize, a tenth of drift', () => {
    expect(factorOf(settings, 'oversize hole').dB).toBeCloseTo(-1, 12)
    expect(factorOf(settings, 'drift to the next recheck').share).toBeCloseTo(0.9, 12)
  })

  it('loses with every millimeter of wear and of pitch', () => {
    const worn = [0.02, 0.05, 0.1].map(
      (wear_mm) =>
        factorOf(
          good((sheet) => {
            sheet.technique.allowed = { wear_mm }
          }),
          'worn tape or wear face'
        ).share
    )
    expect(worn[0]!).toBeLessThan(1)
    expect(worn[1]!).toBeLessThan(worn[0]!)
    expect(worn[2]!).toBeLessThan(worn[1]!)
    const coarse = good((sheet) => {
      sheet.technique.max_pitch_mm = 1.2
    })
    expect(factorOf(coarse, 'between two revolutions').share).toBeLessThan(
      factorOf(settings, 'between two revolutions').share
    )
  })

  it('says what is not stated, and then holds no more than a best case', () => {
    const bare = midBore(good()).worst
    expect(bare.not_stated).toEqual([
      'crack against notch of its size',
      'conductivity and temperature',
      'worn tape or wear face'
    ])
    expect(bare.amplitude).toBeGreaterThan(worst.amplitude)
    expect(bare.noise_share).toBeCloseTo(1 / 3, 12)
  })

  it('is 1 for the alarm notch itself, before anything is taken from it', () => {
    const same = good((sheet) => {
      sheet.technique.target_flaw_mm = { depth: 0.5, length: 1 }
    })
    expect(factorOf(same, 'flaw sought against alarm notch').share).toBeCloseTo(1, 12)
    expect(midBore(same).loop?.peak_to_peak).toBeCloseTo(1, 12)
  })
})

describe('the modeled answer', () => {
  it('falls with lift-off as the script of the same model says', () => {
    const { lift_off_mm, share } = trade.lift_off_decay
    const flaw = { outline: 'rectangle', length_m: 1.5e-3, depth_m: 0.75e-3 } as const
    const amplitudes = lift_off_mm.map((mm) => {
      const coil = {
        coil: { innerRadius: meters(3e-4), outerRadius: meters(7e-4), length: meters(6e-4), turns: 60 },
        liftOff: meters(mm * 1e-3)
      }
      const metal = { conductivity: siemensPerMeter(18.97e6), permeability: 1 }
      const answer = modeledAnswer(flaw, { coil, metal, frequency_Hz: hertz(500e3) })
      return isRefusal(answer) ? Number.NaN : answer.amplitude_ohm
    })
    // the best place moves with lift-off, the script stayed at 0.5 mm: up to two percent of the first
    for (const [i, expected] of share.entries())
      expect(Math.abs(amplitudes[i]! / amplitudes[0]! - expected)).toBeLessThan(0.02)
  })

  it('is known at 32 %IACS and 500 kHz to 0.165 mm of penetration (58 MS/m are 100 %IACS)', () => {
    expect(midBore(good()).at.depth_of_penetration_mm).toBeCloseTo(0.165, 3)
  })

  it('knows a window in which the usual 500 kHz lies for aluminum, and says why it ends', () => {
    const { window } = midBore(good()).frequency
    expect(window!.low_kHz).toBeLessThan(500)
    expect(window!.high_kHz).toBeGreaterThan(500)
    expect(window!.reasons).toHaveLength(2)
    expect(midBore(good()).proposal).toMatchObject({ usual_kHz: 500, frequencies_kHz: { low: 200, high: 500 } })
  })

  it('says of steel that nothing published stands behind it', () => {
    const steel = midBore(
      good((sheet) => {
        sheet.technique.metal = '17-7PH TH1050'
        sheet.technique.frequency_kHz = 500
        sheet.reference_standard.metal = '17-7PH TH1050'
        sheet.reference_standard.heat_treatment = 'TH1050'
        sheet.reference_standard.demagnetized = 'not needed: invented'
        for (const hole of sheet.holes) {
          hole.heat_treatment = 'TH1050'
          hole.demagnetized = 'not needed: invented'
        }
      })
    )
    expect(steel.model!.check).toMatch(/no published/)
    expect(steel.warnings.map(({ of }) => of)).toContain('model without a published check')
    expect(warned(good())).not.toContain('model without a published check')
  })
})

describe('speed and bands', () => {
  const { rows, footprint_mm } = trade.pulses

  it.each(rows)('are those of the trade at $diameter_mm mm and $rpm rpm', ({ diameter_mm, rpm, ...expected }) => {
    const { motion, bands } = good((sheet) => {
      sheet.technique.rotation_rpm = rpm
      sheet.technique.lobe_spacing_mm = footprint_mm / bellWidth(1)
      sheet.reference_standard.hole_diameter_mm = diameter_mm
      for (const hole of sheet.holes) hole.diameter_mm = diameter_mm
    })
    // the table doubled rounded figures
    expect(Math.abs(motion.surface_speed_mm_s - expected.speed_mm_s)).toBeLessThan(0.6)
    expect(motion.pulse_ms).toBeCloseTo(expected.pulse_ms, 2)
    expect(Math.abs(motion.sample_rate_least_Hz / 10 - expected.rate_Hz)).toBeLessThan(0.6)
    expect(bands).toHaveLength(1)
  })

  it('double with the speed, corners too', () => {
    const at = (rpm: number) =>
      good((sheet) => {
        sheet.technique.rotation_rpm = rpm
      }).bands[0]!
    const [slow, fast] = [at(1500), at(3000)]
    expect(fast.high_pass_most_Hz).toBeCloseTo(2 * slow.high_pass_most_Hz, 9)
    expect(fast.low_pass_least_Hz).toBeCloseTo(2 * slow.low_pass_least_Hz, 9)
    expect(fast.pulse_center).toBeCloseTo(slow.pulse_center, 12)
  })

  it('count the time of every hole: two of 9 mm at 0.25 mm and 1500 rpm are 2.88 s, and a minute each beside it', () => {
    const { time } = good((sheet) => {
      sheet.technique.wanted = { handling_s: 60, passes: 3 }
    }).motion
    expect(time.scanning_s).toBeCloseTo(2.88, 9)
    expect(time.whole_s).toBeCloseTo(122.88, 9)
    expect(good().motion.time).not.toHaveProperty('whole_s')
  })
})

describe('warnings', () => {
  it('are met where a steel layer is planned like its aluminum neighbor', () => {
    const settings = good((sheet) => {
      sheet.technique.frequency_kHz = 200
      sheet.holes = [
        {
          ...sheet.holes[0],
          layers: ['aluminum 7075-T6', '17-7PH TH1050'],
          heat_treatment: ['T6', 'TH1050'],
          demagnetized: 'not needed: invented'
        }
      ]
    })
    const steel = settings.zones.find(({ metal }) => metal.name === '17-7PH TH1050')!
    expect(steel.warnings.map(({ of }) => of)).toContain('another metal than the reference standard')
    expect(steel.warnings.map(({ found }) => found).join()).toMatch(/less gain/)
    const aluminum = settings.zones.find(({ metal }) => metal.name === 'aluminum 7075-T6')!
    expect(aluminum.warnings.map(({ of }) => of)).not.toContain('another metal than the reference standard')
  })

  it('are met for a flaw shorter than half the coil', () => {
    const short: Change = (sheet) => {
      sheet.technique.target_flaw_mm = { depth: 0.3, length: 0.6 }
    }
    expect(warned(good(short))).toContain('flaw shorter than half the coil')
    expect(warned(good())).not.toContain('flaw shorter than half the coil')
  })

  it('are met for bands that no filter parts from ovality or three lobes', () => {
    const narrow = good((sheet) => {
      sheet.reference_standard.hole_diameter_mm = 3.96
      for (const hole of sheet.holes) hole.diameter_mm = 3.96
    })
    expect(warned(narrow)).toContain("band that can't be told from ovality")
    const wide = good((sheet) => {
      sheet.reference_standard.hole_diameter_mm = 12.7
      for (const hole of sheet.holes) hole.diameter_mm = 12.7
    })
    expect(warned(wide).join()).not.toMatch(/can't be told/)
  })

  it('are met where the flaw does not rise over noise or alarm level', () => {
    const faint = good((sheet) => {
      sheet.technique.allowed = { wear_mm: 0.5 }
    })
    expect(warned(faint)).toContain("field that doesn't reach")
    expect(warned(faint)).toContain('alarm level above the flaw sought')
    const strong = good((sheet) => {
      sheet.technique.alarm.share = 0.2
      sheet.technique.allowed = { noise_share: 0.05 }
    })
    expect(warned(strong)).not.toContain("field that doesn't reach")
    expect(warned(strong)).not.toContain('alarm level above the flaw sought')
  })

  it('are met for fixed filters that do not fit the speed', () => {
    const slow = good((sheet) => {
      sheet.technique.filter_corners = { high_pass_Hz: 60, low_pass_Hz: 100 }
    })
    expect(warned(slow)).toEqual(expect.arrayContaining(['high-pass of the instrument', 'low-pass of the instrument']))
  })
})

describe('stated pick-ups', () => {
  const withPair: Change = (sheet) => {
    sheet.technique.probe.winding = { ...winding, inner_radius_mm: 0.7, outer_radius_mm: 1, turns: 80 }
    sheet.technique.probe.pick_ups = { ...winding, inner_radius_mm: 0.4, outer_radius_mm: 0.65 }
    sheet.technique.target_flaw_mm = { depth: 0.5, length: 1 }
  }
  const winding = { length_mm: 0.6, turns: 60, lift_off_mm: 0.1 }
  const settings = good(withPair)

  it('make the loop themselves: as long and as far from lift-off as that of the notch it is', () => {
    const { loop, worst } = midBore(settings)
    expect(loop!.peak_to_peak).toBeCloseTo(1, 9)
    expect(factorOf(settings, 'flaw sought against alarm notch').share).toBeCloseTo(1, 12)
    const [first, last] = [loop!.points[0]!, loop!.points[loop!.points.length - 1]!]
    expect(first.across_mm).toBeCloseTo(-last.across_mm, 12)
    expect(first.y).toBeCloseTo(-last.y, 12)
    expect(worst.factors).toHaveLength(7)
  })

  it('are held against the stated lobe spacing', () => {
    expect(midBore(settings).modeled_lobe_spacing_mm).toBeGreaterThan(0.4)
    expect(midBore(settings).modeled_lobe_spacing_mm).toBeLessThan(1)
    expect(warned(settings)).toContain('lobe spacing')
    const fitting = good((sheet) => {
      withPair(sheet)
      sheet.technique.lobe_spacing_mm = Number(midBore(settings).modeled_lobe_spacing_mm!.toFixed(2))
    })
    expect(warned(fitting)).not.toContain('lobe spacing')
  })
})

describe('what is refused', () => {
  it('a technique without its coil', () => {
    expect(codeOf((sheet) => void delete sheet.technique.probe)).toBe('plan/no-winding')
  })

  it('a metal that nothing is known of, and a zone whose layer has none', () => {
    const unknown: Change = (sheet) => {
      sheet.technique.metal = 'unobtainium'
    }
    expect(codeOf(unknown)).toBe('plan/metal-unknown')
    const without: Change = (sheet) => {
      sheet.holes = [{ ...sheet.holes[0], layers: ['aluminum 7075-T6', 'aluminum 7075-T6'] }]
      sheet.technique.zones = ['layer 2 mid-bore']
    }
    expect(codeOf(without)).toBe('no refusal')
    const read = sheetOf(plannableSheet())
    if ('refusals' in read || !('holes' in read.sheet)) throw new Error('the sample is sound')
    const [hole] = read.sheet.holes
    const spoiled = settingsOf({ ...read.sheet, holes: [{ ...hole!, layers: ['aluminum 7075-T6'] }] })
    expect(isRefusal(spoiled) && spoiled.code).toBe('plan/zone-without-metal')
  })

  it('a conductivity that the alloy can not have, a coil in the wall, a high-pass that leaves no flaw', () => {
    expect(
      codeOf((sheet) => {
        sheet.technique.allowed = {
          conductivity: [{ metal: 'aluminum 7075-T6', low_IACS: 50, high_IACS: 55, source: 'invented' }]
        }
      })
    ).toBe('materials/outside-range')
    expect(
      codeOf((sheet) => {
        sheet.technique.probe.winding.inner_radius_mm = 0.9
      })
    ).toBe('fields/bad-coil')
    expect(
      codeOf((sheet) => {
        sheet.technique.probe.winding.outer_radius_mm = 3.2
      })
    ).toBe('plan/coil-through-wall')
    expect(
      codeOf((sheet) => {
        sheet.technique.filter_corners = { high_pass_Hz: 300, low_pass_Hz: 1000 }
      })
    ).toBe('plan/filter-takes-flaw')
  })

  it('a loop, which has no wall', () => {
    const read = sheetOf(loopSheet())
    if ('refusals' in read) throw new Error(JSON.stringify(read.refusals))
    const settings = settingsOf(read.sheet)
    expect(isRefusal(settings) && settings.code).toBe('plan/no-settings')
  })
})
