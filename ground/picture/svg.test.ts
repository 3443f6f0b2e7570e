import { describe, expect, it } from 'vitest'
import { axes } from './axes.ts'
import { line, type Mark } from './marks.ts'
import { place, ticks } from './scale.ts'
import { escapeXml, filled, svg, symbolSvg } from './svg.ts'

const drawing = (marks: readonly Mark[]) => svg({ width: 100, height: 50, description: 'a <test> & more', marks })

describe('svg', () => {
  it('stands alone and says in words what it shows', () => {
    const text = drawing([])
    expect(text).toContain('xmlns="http://www.w3.org/2000/svg" width="100" height="50" viewBox="0 0 100 50" role="img"')
    expect(text).toContain('<title>a &lt;test&gt; &amp; more</title>')
  })

  it('has no ids, so that many share a page', () => {
    const box = { x: 10, y: 10, width: 20, height: 20 }
    const text = drawing([
      { mark: 'hatch', box, tone: 'faint' },
      { mark: 'clip', box, marks: [line([0, 0], [99, 99], { tone: 'ink', width: 1 })] }
    ])
    expect(text).not.toMatch(/\bid=|url\(/)
    expect(text.match(/overflow="hidden"/g)).toHaveLength(2)
  })

  it('gives every tone a class for a page and a color for paper', () => {
    expect(drawing([filled({ x: 0, y: 0, width: 1, height: 1 }, 'accent')])).toContain(
      'class="f-accent" fill="#3a2fb0"'
    )
    expect(drawing([line([0, 0], [1, 1], { tone: 'ink', width: 2, dash: '3 2' })])).toContain(
      'class="s-ink" fill="none" stroke="#1b1a17" stroke-width="2" stroke-linejoin="round" stroke-dasharray="3 2"'
    )
  })

  it('writes text so that it stays text', () => {
    expect(escapeXml(`<b>"R&D"</b>\u0000\ud800`)).toBe('&lt;b&gt;&quot;R&amp;D&quot;&lt;/b&gt;')
    expect(drawing([{ mark: 'text', at: [1, 2], text: '<script>', turn: -90 }])).toContain('&lt;script&gt;')
  })

  it('closes what it opens', () => {
    const text = drawing([{ mark: 'hatch', box: { x: 0, y: 0, width: 9, height: 9 }, tone: 'ink' }])
    expect(text.match(/<svg/g)).toHaveLength(text.match(/<\/svg>/g)?.length ?? 0)
  })

  it('throws for a place that is no number', () =>
    expect(() => drawing([line([Number.NaN, 0], [1, 1], { tone: 'ink', width: 1 })])).toThrow(RangeError))

  it('hides a symbol from readers of the page', () => expect(symbolSvg(16, [])).toContain('aria-hidden="true"'))
})

describe('scale', () => {
  it('places ends and middle', () => {
    const scale = { from: 2, to: 4, start: 100, end: 50 }
    expect([2, 3, 4].map((value) => place(scale, value))).toEqual([100, 75, 50])
  })

  it.each([
    [0, 10, 5, ['0', '2', '4', '6', '8', '10']],
    [0, 1, 5, ['0.0', '0.2', '0.4', '0.6', '0.8', '1.0']],
    [-0.03, 0.03, 3, ['\u22120.02', '0.00', '0.02']],
    [0, 9.06, 9, ['0', '2', '4', '6', '8']],
    [10, 0, 2, ['0', '5', '10']],
    [0, 360, 4, ['0', '100', '200', '300']],
    [0, 0.95, 1, ['0']]
  ])('ticks from %d to %d, about %d', (from, to, count, texts) =>
    expect(ticks(from, to, count).map(({ text }) => text)).toEqual(texts)
  )
  it('throws where there is no range', () => expect(() => ticks(1, 1, 3)).toThrow(RangeError))
})

describe('axes', () => {
  it('put a tick and a text at every value', () => {
    const scale = { from: 0, to: 1, start: 0, end: 100 }
    const axis = { scale, ticks: ticks(0, 1, 2), label: 'depth, mm' }
    const marks = axes({ x: 0, y: 0, width: 100, height: 100 }, axis, { ...axis, ticks: [] })
    expect(marks.filter(({ mark }) => mark === 'text')).toHaveLength(3 + 2)
  })
})
