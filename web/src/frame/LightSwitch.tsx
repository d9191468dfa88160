import { useState } from 'react'
import { chooseLight, chosenLight, type Light } from './light.ts'

const TITLES: Readonly<Record<Light, string>> = { system: 'as the system', light: 'light', dark: 'dark' }

/** Light, dark, or as the system asks. */
export function LightSwitch() {
  const [light, setLight] = useState(chosenLight)
  return (
    <label className="light-switch">
      <span>Page</span>
      <select
        value={light}
        onChange={(event) => {
          const chosen = (Object.keys(TITLES) as Light[]).find((key) => key === event.target.value) ?? 'system'
          chooseLight(chosen)
          setLight(chosen)
        }}
      >
        {Object.entries(TITLES).map(([value, title]) => (
          <option key={value} value={value}>
            {title}
          </option>
        ))}
      </select>
    </label>
  )
}
