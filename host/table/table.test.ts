/** Oracle: RFC 4180's own examples, written out. */
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { columnOf, readTable, type Table, tableOf, tableText } from './index.ts'

const cellsOf = (text: string) => {
  const table = tableOf(text, 't.csv')
  return isRefusal(table) ? table.code : [table.columns, ...table.rows.map(({ cells }) => cells)]
}

describe('a table of text', () => {
  it('has quoted separators, doubled quotes and line breaks as RFC 4180 has them', () => {
    expect(cellsOf('a,b,c\r\n"aaa","b\r\nbb","ccc"\r\nzzz,"y ""y""",xxx')).toEqual([
      ['a', 'b', 'c'],
      ['aaa', 'b\r\nbb', 'ccc'],
      ['zzz', 'y "y"', 'xxx']
    ])
  })

  it('may begin with a mark, have semicolons or tabs, blanks around cells and empty rows', () => {
    expect(cellsOf('\uFEFFsite; called\n P1 ;1\n;\n\nP2;0\n')).toEqual([
      ['site', 'called'],
      ['P1', '1'],
      ['P2', '0']
    ])
    expect(cellsOf('a\tb\n1,5\t2\n')).toEqual([
      ['a', 'b'],
      ['1,5', '2']
    ])
  })

  it('is refused where a cell would be lost or moved: rows that are too short or long, quotes that stay open', () => {
    expect(cellsOf('a,b\n1\n2,3')).toBe('table/not-a-table')
    expect(cellsOf('a,b\n1,2,3\n')).toBe('table/not-a-table')
    expect(cellsOf('a,b\n"1,2\n3,4\n')).toBe('table/not-a-table')
    const found = tableOf('a,b\n1,2\n1,2,3\n', 't.csv')
    expect(isRefusal(found) && found.where).toEqual({ file: 't.csv', line: 3 })
  })

  it('is refused without a row, and with columns that can not be told apart', () => {
    expect(cellsOf('')).toBe('table/empty')
    expect(cellsOf('a,b\n')).toBe('table/empty')
    expect(cellsOf('a,a\n1,2')).toBe('table/doubled-column')
    expect(cellsOf('a,\n1,2')).toBe('table/doubled-column')
  })

  it('is read from a file, and a column from it by name', async () => {
    const missing = await readTable('/no/such/table.csv')
    expect(isRefusal(missing) && missing.code).toBe('sheet/no-file')
    const table = tableOf('a,b\n1,2', 't.csv') as Table
    expect(columnOf(table, 'b')).toBe(1)
    const none = columnOf(table, 'c')
    expect(isRefusal(none) && none.code).toBe('table/no-column')
  })
})

describe('a table that is written', () => {
  it('is read back as it was, whatever its cells hold', () => {
    const rows = [
      ['a', 'b'],
      ['one, two', 'a "quoted" word'],
      ['line\nbreak', 'plain']
    ]
    const read = tableOf(tableText([...rows, [1.5, undefined]]), 'x.csv')
    if (isRefusal(read)) throw new Error(read.found)
    expect([read.columns, ...read.rows.map(({ cells }) => cells)]).toEqual([...rows, ['1.5', '']])
  })
})
