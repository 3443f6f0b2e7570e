import { describe, expect, it } from 'vitest'
import { labelsIn } from './labels.ts'
import { codeSources, isTest } from './tree.ts'
import words from './words.json' with { type: 'json' }
import { badTerms, strangeLabels, strangeWords, vocabularyOf } from './words.ts'

const vocabulary = vocabularyOf(words)

describe('visible words', () => {
  const labels = codeSources()
    .filter(({ path }) => !isTest(path))
    .flatMap(labelsIn)

  it('are in the list', () => expect(strangeLabels(labels, vocabulary)).toEqual([]))
  it('have an origin, and a meaning where they are ours', () => expect(badTerms(words)).toEqual([]))
  it('stand in order, once', () => {
    const terms = Object.keys(words.terms).map((term) => term.toLowerCase())
    expect(terms).toEqual([...terms].sort())
  })
})

describe('the check itself', () => {
  const texts = (text: string, path = 'apps/cli/a.ts') => labelsIn({ path, text }).map((label) => label.text)

  it('finds labels by the name of what holds them', () => {
    expect(texts("const title = 'Drop log'")).toEqual(['Drop log'])
    expect(texts("const title = '<title>Drop log</title>'")[0]).toBe(' Drop log ')
    expect(texts("const s = { heading: 'Zone', other: 'zone' }")).toEqual(['Zone'])
    expect(texts("const columns = ['hole', { label: 'depth' }] as const")).toEqual(['hole', 'depth', 'depth'])
    expect(texts("const stateLabels = { a: 'examined', b: x ? 'voided' : 'decided' }")).toEqual([
      ...['examined', 'voided', 'decided']
    ])
    expect(texts(`const label = \`Hole \${id} at \${angle}\``)).toEqual(['Hole ', ' at ', ''])
  })

  it('finds commands, options and arguments', () => {
    expect(texts("program.command('examine <file>').option('-t, --technique <file>', 'the paper')")).toEqual([
      ...[' , --technique <file>', 'examine <file>']
    ])
    expect(texts("new Option('--no-color')")).toEqual(['--color'])
  })

  it('finds listed commands and the heads of printed tables', () => {
    expect(texts("const all = [{ name: 'plan', summary: 'check a job' }, { name: 'x' }]")).toEqual([
      'plan',
      'check a job'
    ])
    expect(texts("say(table([['zone', 'state'], ...rows]))")).toEqual(['zone', 'state'])
  })

  it('finds what names things on a page', () => {
    const page = `const html = \`<h1>Job \${name}</h1><p>free text</p><th scope="col">Zone</th>\``
    expect(texts(page)).toEqual(['Job  0 ', 'Zone'])
    expect(texts('const page = <h1>Zones</h1>', 'apps/workbench/a.tsx')).toEqual(['Zones'])
    expect(texts('const page = <p>Nothing of it <Link>All jobs</Link></p>', 'apps/workbench/a.tsx')).toEqual([
      'All jobs'
    ])
  })

  it('covers a label by the longest terms', () => {
    const own = vocabularyOf({
      origins: [],
      terms: { 'alarm level': { origin: [] }, hole: { origin: [] } },
      common: ['of'],
      names: ['CSV'],
      units: ['mm']
    })
    expect(strangeWords('Alarm levels of 12 holes, mm', own)).toEqual([])
    expect(strangeWords('--alarm-level <hole>, csv', own)).toEqual([])
    expect(strangeWords('Alarm of sizzle', own)).toEqual(['alarm', 'sizzle'])
    expect(strangeLabels([{ text: 'Gizmo', place: 'a.ts:1' }], own)).toHaveLength(1)
  })

  it('finds a term without an origin, and one of ours without a meaning', () => {
    const terms = { a: { origin: [] }, b: { origin: ['ours'] }, c: { origin: ['elsewhere'] }, d: { origin: ['trade'] } }
    expect(badTerms({ ...words, terms })).toEqual(['a', 'b', 'c'])
  })
})
