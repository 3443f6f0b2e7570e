import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { drawingForm, FORM_BYTES } from './drawing.ts'

/** Oracle: pictures of 2 × 1 pixels and a page as ImageMagick 6.9 writes them, the beginning of a page that Chromium prints, and SVG written by hand. */

const bytes = (base64: string) => Uint8Array.from(Buffer.from(base64, 'base64'))
const text = (words: string) => new TextEncoder().encode(words)
const root = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 2 1"/>'

describe('the form of a drawing', () => {
  it.each([
    [
      'image/png',
      'iVBORw0KGgoAAAANSUhEUgAAAAIAAAABCAAAAADRSSBWAAAABGdBTUEAALGPC/xhBQAAAAJiS0dEAP+Hj8y/AAAAB3RJTUUH6gseFCg2NdWzZgAAAAtJREFUCNdjrGMAAAECAIAf9WLGAAAAJXRFWHRkYXRlOmNyZWF0ZQAyMDI2LTExLTMwVDIwOjQwOjU0KzAwOjAwcmpBsAAAACV0RVh0ZGF0ZTptb2RpZnkAMjAyNi0xMS0zMFQyMDo0MDo1NCswMDowMAM3+QwAAAAASUVORK5CYII='
    ],
    ['image/jpeg', '/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDAAMCAgICAgMCAgIDAwMDBA=='],
    ['application/pdf', 'JVBERi0xLjQKJdPr6eEKMSAwIG8=']
  ])('%s is known by its first bytes', (form, base64) => expect(drawingForm(bytes(base64))).toBe(form))

  it.each([
    ['alone', root],
    [
      'after a declaration, a document type and a comment',
      `<?xml version="1.0"?>\n<!DOCTYPE svg>\n<!-- <html> -->\n${root}`
    ],
    ['with entities, as drawing programs write them', `<!DOCTYPE svg [ <!ENTITY ns "x"> ]> ${root}`],
    ['with a name space of its own', '<svg:svg xmlns:svg="http://www.w3.org/2000/svg"></svg:svg>'],
    ['in UTF-16', `\uFEFF${root}`]
  ])('SVG by its root element: %s', (name, words) => {
    const encoded = name === 'in UTF-16' ? Uint8Array.from(Buffer.from(words, 'utf16le')) : text(words)
    expect(drawingForm(encoded)).toBe('image/svg+xml')
  })

  it.each([
    ['nothing', new Uint8Array()],
    [
      'another picture (GIF)',
      bytes('R0lGODlhAgABAPAAAH5+fgAAACH5BAAAAAAAIf8LSW1hZ2VNYWdpY2sOZ2FtbWE9MC40NTQ1NDUALAAAAAACAAEAAAICBAoAOw==')
    ],
    ['a page of the web', text('<!doctype html><svg></svg>')],
    ['a page of the web with a drawing in it', text(`<html><body>${root}</body></html>`)],
    ['a comment that hides what follows', text(`<!-- ${root}`)],
    ['a recording', text('time_s,x_V,y_V\n0,0.1,0.2\n')],
    [
      'a picture of PNG cut within its signature',
      bytes(
        'iVBORw0KGgoAAAANSUhEUgAAAAIAAAABCAAAAADRSSBWAAAABGdBTUEAALGPC/xhBQAAAAJiS0dEAP+Hj8y/AAAAB3RJTUUH6gseFCg2NdWzZgAAAAtJREFUCNdjrGMAAAECAIAf9WLGAAAAJXRFWHRkYXRlOmNyZWF0ZQAyMDI2LTExLTMwVDIwOjQwOjU0KzAwOjAwcmpBsAAAACV0RVh0ZGF0ZTptb2RpZnkAMjAyNi0xMS0zMFQyMDo0MDo1NCswMDowMAM3+QwAAAAASUVORK5CYII='
      ).subarray(0, 7)
    ]
  ])('none where it is %s', (_, head) => expect(drawingForm(head)).toBeUndefined())

  it('is answered at once for comments without end', () =>
    expect(drawingForm(text(`${'<!---->'.repeat(500)}${'<!DOCTYPE ['.repeat(50)}`))).toBeUndefined())

  it('is answered at once whatever the bytes are', () =>
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom('<!--', '-->', '<?', '?>', '<!DOCTYPE', '[', ']', '>', ' ', '<svg', 'x'), {
          maxLength: FORM_BYTES
        }),
        (parts) => {
          const form = drawingForm(text(parts.join('')).subarray(0, FORM_BYTES))
          return form === undefined || form === 'image/svg+xml'
        }
      )
    ))
})
