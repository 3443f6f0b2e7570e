import { describe, expect, it } from 'vitest'
import { citationsIn, keysOf, referenceIn, uncited, withoutWork } from './citations.ts'
import { paths, sources } from './tree.ts'

const references = sources(/\/reference\/[^/]+\.json$/).map((source) => referenceIn(source, paths()))
const works = paths().flatMap((path) => path.match(/^sources\/([^/]+)\.md$/)?.[1] ?? [])
const cited = [
  ...sources(/^(ground|metal|job|host|apps)\/.*\.(tsx?|py)$/).flatMap(citationsIn),
  ...references.flatMap(({ citations }) => citations)
]

describe('works cited', () => {
  it('are each spelled out in sources/', () => expect(withoutWork(cited, works)).toEqual([]))
  it('are all there for a reason', () => expect(uncited(cited, works)).toEqual([]))
  it('include one for every file of reference values, with the method', () => {
    expect(references.flatMap(({ complaints }) => complaints)).toEqual([])
  })
})

describe('the check itself', () => {
  const code = (text: string) => citationsIn({ path: 'job/scan/a.ts', text }).map(({ key }) => key)

  it('reads keys and leaves places', () => {
    expect(keysOf('tang-1990')).toEqual(['tang-1990'])
    expect(keysOf('cody-waite-1980, muller-2016 (table-based)')).toEqual(['cody-waite-1980', 'muller-2016'])
    expect(keysOf('iso-15549, 10.2, table 3')).toEqual(['iso-15549'])
    expect(keysOf('rfc1950), rfc1951; 2.3')).toEqual(['rfc1950', 'rfc1951'])
    expect(keysOf('dodd-deeds-1968, eq. 12; p. 4')).toEqual(['dodd-deeds-1968'])
  })

  it('finds citations in doc blocks, comments and data', () => {
    expect(code('/** Sum. source: knuth-1997 */')).toEqual(['knuth-1997'])
    expect(code('/**\n * Sum.\n * source: knuth-1997, p. 236\n */')).toEqual(['knuth-1997'])
    expect(code('// source: knuth-1997')).toEqual(['knuth-1997'])
    expect(code("const row = { value: 1, source: 'mil-hdbk-5-2003, table 2' }")).toEqual(['mil-hdbk-5-2003'])
    expect(code("const where = { source: 'entered' }")).toEqual([])
    expect(code('// common practice, no source: rules of ours')).toEqual([])
    expect(code('readonly #source: AngleSource')).toEqual([])
  })

  it('finds a citation that leads nowhere, and a work without one', () => {
    const citations = [
      { key: 'a-1990', place: 'x.ts:1' },
      { key: 'The', place: 'x.ts:2' }
    ]
    expect(withoutWork(citations, ['a-1990'])).toEqual(['x.ts:2: "The" is no key of a work'])
    expect(withoutWork(citations.slice(0, 1), [])).toEqual(['x.ts:1: "a-1990" has no file in sources/'])
    expect(uncited(citations, ['a-1990', 'b-2000'])).toEqual(['b-2000'])
  })

  it('finds reference values without a source or a method', () => {
    const complaints = (value: unknown) =>
      referenceIn({ path: 'r.json', text: JSON.stringify(value) }).complaints.map((line) => line.slice(8))
    expect(complaints({ source: 'a-1990', method: 'printed', cases: [] })).toEqual([])
    expect(complaints({ source: 'a-1990', cases: [{ x: 1 }] })).toEqual(['names no method'])
    expect(complaints({ cases: [{ source: 'a-1990', method: 'printed' }, { source: 'a-1990' }] })).toEqual([
      'names no method'
    ])
    expect(complaints({ method: 'printed', cases: [{ source: 'a-1990' }] })).toEqual([])
    expect(complaints([{ source: '', method: 'printed' }])).toEqual(['names no source'])
    const computed = { source: 'computed by values.py with mpmath 1.2.1', cases: [] }
    expect(complaints(computed)).toEqual(['was computed by values.py, which does not lie beside it'])
    const text = JSON.stringify(computed)
    expect(referenceIn({ path: 'a/r.json', text }, ['a/values.py'])).toEqual({ complaints: [], citations: [] })
    expect(complaints({ source: 'computed with our own program' })).toEqual(['names no method'])
    expect(complaints([])).toEqual(['names no source', 'names no method'])
  })
})
