import { describe, expect, it } from 'vitest'
import { forbiddenIn, unexactIn } from './forbidden.ts'
import exceptions from './libraries.json' with { type: 'json' }
import { counted, filesOf, librariesOf, unexactOfLibrary } from './libraries.ts'
import { codeSources, isPure } from './tree.ts'

const names = (text: string) => forbiddenIn({ path: 'job/scan/a.ts', text }).map(({ name }) => name)

describe('ground, metal and job give equal bits everywhere', () => {
  const pure = codeSources().filter(({ path }) => isPure(path))

  it('has code to look at', () => expect(pure.length).toBeGreaterThan(5))
  it('uses nothing that differs between engines or runs', () => {
    expect(pure.flatMap(forbiddenIn).map(({ name, place }) => `${place}: ${name}`)).toEqual([])
  })
})

describe('packages imported below host', () => {
  const excused = (library: string) =>
    Object.fromEntries(
      ((exceptions as Record<string, unknown>)[library] as { use: string; count: number }[]).map((row) => [
        row.use,
        row.count
      ])
    )

  it('are those whose exceptions are listed, no more', () => {
    const found = librariesOf(codeSources())
    expect(found.filter((library) => !(library in exceptions))).toEqual([])
  })

  it('hold exactly the listed uses', async () => {
    expect((await filesOf('zod')).length).toBeGreaterThan(10)
    expect(await unexactOfLibrary('zod')).toEqual(excused('zod'))
  })

  it('would be caught with one more use', () => {
    const planted = unexactIn({ path: 'node_modules/zod/a.js', text: 'export const f = (x) => Math.exp(x) * x ** 2' })
    expect(counted(planted)).toEqual({ 'node_modules/zod/a.js Math.exp': 1, 'node_modules/zod/a.js **': 1 })
  })

  it('are found from the code', () => {
    const text = "import { z } from 'zod'\nimport FFT from 'fft.js'\nimport { a } from '@trueloop/ground/refusal'"
    expect(librariesOf([{ path: 'job/plan/a.ts', text }])).toEqual(['fft.js', 'zod'])
  })
})

describe('the check itself', () => {
  it.each([
    ['const y = Math.sin(x)', ['Math.sin']],
    ['const y = Math.hypot(x, z)', ['Math.hypot']],
    ['const y = Math.random()', ['Math.random']],
    ['const { exp } = Math', ['Math']],
    ["const y = Math['exp'](x)", ['Math']],
    ['const m = Math', ['Math']],
    ['const y = x ** 2', ['**']],
    ['y **= 2', ['**=']],
    ['const now = Date.now()', ['Date']],
    ['const now: Date = given', ['Date']],
    ['const Date = 1', ['Date'].slice(1)],
    ['setTimeout(f, 1); performance.now()', ['setTimeout', 'performance']],
    ['process.exit(1); console.log(1)', ['process', 'console']],
    ['crypto.subtle; fetch(u); document.body; window.top', ['crypto', 'fetch', 'document', 'window']],
    ['const p = globalThis.process', ['globalThis']],
    ["const n = new Intl.NumberFormat('en')", ['Intl']],
    ['x.toLocaleString(); a.localeCompare(b)', ['.toLocaleString', '.localeCompare']],
    ['const o = { console }', ['console']]
  ])('finds in %s', (text, found) => expect(names(text)).toEqual(found))

  it.each([
    'const y = Math.sqrt(x) + Math.PI + Math.imul(2, 3) + Math.trunc(x)',
    'const window = taper(n); use(window)',
    'const f = (process: Step) => process.run',
    'const r = { Date: 1, document: 2 }.document',
    'interface Step { process: string; window: number }',
    '// Math.sin(x) ** 2 in a comment',
    "const s = 'Date and Math.sin'"
  ])('lets pass: %s', (text) => expect(names(text)).toEqual([]))

  it('knows no local Math or Date', () => expect(names('const Math = own; Math.sin(1)')).toEqual(['Math.sin']))
})
