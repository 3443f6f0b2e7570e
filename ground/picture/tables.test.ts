import { describe, expect, it } from 'vitest'
import { paletteOf } from './raster.ts'
import reference from './reference/tables.json' with { type: 'json' }
import { paperTones } from './svg.ts'
import { balanced, cividis, night } from './tables.ts'

/** Relative luminance of an sRGB color. source: wcag21, definition of relative luminance */
function luminance(hex: string): number {
  const [r = 0, g = 0, b = 0] = [0, 2, 4].map((at) => {
    const value = Number.parseInt(hex.slice(at, at + 2), 16) / 255
    return value <= 0.03928 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4
  })
  return 0.2126 * r + 0.7152 * g + 0.0722 * b
}

const contrast = (one: string, other: string): number => {
  const [low = 0, high = 0] = [luminance(one), luminance(other)].sort((a, b) => a - b)
  return (high + 0.05) / (low + 0.05)
}

const entry = (table: string, index: number): string => table.slice(6 * index, 6 * index + 6)
/** CIE lightness, from luminance */
const lightness = (hex: string): number => 116 * Math.cbrt(luminance(hex)) - 16

describe('color tables', () => {
  it('cividis is the one that Matplotlib distributes', () => expect(cividis).toBe(reference.cividis))
  it('balanced is the one that its script computes', () => expect(balanced).toBe(reference.balanced))
  it('night is the one that its script computes', () => expect(night).toBe(reference.night))
  it('have 255 entries; the last of 256 stands for no value', () => {
    expect([cividis, balanced, night].map(({ length }) => length)).toEqual([255 * 6, 255 * 6, 255 * 6])
    expect([...paletteOf('sequential').slice(-3)]).toEqual([0, 0, 0])
  })
  it('balanced is as dark below as above, and lightest in the middle', () => {
    for (let at = 0; at < 127; at++) {
      expect(Math.abs(lightness(entry(balanced, at)) - lightness(entry(balanced, 254 - at)))).toBeLessThan(1)
      expect(lightness(entry(balanced, at + 1))).toBeGreaterThan(lightness(entry(balanced, at)) - 0.3)
    }
    expect(lightness(entry(balanced, 127))).toBeGreaterThan(95)
  })
  it('night is as light below as above, and darkest in the middle', () => {
    for (let at = 0; at < 127; at++) {
      expect(Math.abs(lightness(entry(night, at)) - lightness(entry(night, 254 - at)))).toBeLessThan(1)
      expect(lightness(entry(night, at + 1))).toBeLessThan(lightness(entry(night, at)) + 0.3)
    }
    expect(lightness(entry(night, 127))).toBeLessThan(15)
  })
  it('cividis never gets darker', () => {
    for (let at = 0; at < 254; at++)
      expect(lightness(entry(cividis, at + 1))).toBeGreaterThan(lightness(entry(cividis, at)) - 0.3)
  })
})

// source: wcag21, 1.4.6
describe('tones on paper', () => {
  it.each(['ink', 'soft', 'accent', 'amber', 'red'] as const)('%s has a contrast of 7 or more', (tone) =>
    expect(contrast(paperTones[tone].slice(1), 'ffffff')).toBeGreaterThanOrEqual(7)
  )
})
