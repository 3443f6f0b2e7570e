/** The part of the library that reads a PDF, in a worker of its own. */
import 'pdfjs-dist/legacy/build/pdf.worker.mjs'
