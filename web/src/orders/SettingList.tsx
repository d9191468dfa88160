import { formatQuantity, type Setting } from '@haspwright/engine'
import { EvidenceParts } from './FindingWorking.tsx'

/** What to set and what to expect, each figure with its unit and, where it was computed, its working. */
export function SettingList({ settings }: { settings: readonly Setting[] }) {
  if (settings.length === 0) return null
  return (
    <section className="sheet-part">
      <h3>Settings</h3>
      <ul className="settings">
        {settings.map((setting, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: settings stand in the order of the plan, and two may share a title
          <li key={i}>
            <SettingRow setting={setting} />
          </li>
        ))}
      </ul>
    </section>
  )
}

function SettingRow({ setting }: { setting: Setting }) {
  const { title, because, evidence } = setting
  const row = (
    <>
      <span className="setting-title">{title}</span>
      <span className={typeof setting.value === 'string' ? 'setting-value words' : 'setting-value figure'}>
        {valueWords(setting)}
      </span>
    </>
  )
  return (
    <>
      {evidence === undefined ? (
        <div className="setting">{row}</div>
      ) : (
        <details>
          <summary className="setting">
            {row}
            <span className="setting-open screen-only">
              working<span className="visually-hidden"> of {title}</span>
            </span>
          </summary>
          <EvidenceParts evidence={evidence} />
        </details>
      )}
      {because === undefined ? null : <p className="small quiet setting-because">{because}</p>}
    </>
  )
}

function valueWords({ value, unit }: Setting): string {
  if (value === null) return 'not known yet'
  if (typeof value === 'string') return unit === '' ? value : `${value}\u202f${unit}`
  return formatQuantity(value, unit)
}
