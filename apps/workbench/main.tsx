import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import { Workbench } from './workbench.tsx'
import './style/index.css'

const place = document.getElementById('workbench')
if (place === null) throw new Error('the page has no place for the workbench')
createRoot(place).render(
  <StrictMode>
    <Workbench />
  </StrictMode>
)
