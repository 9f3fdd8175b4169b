import { useEffect, useRef, useState } from 'react';
import { records as words } from '../../../shared/words/records/records.ts';
import { useApp } from '../../app-parts.ts';
import { HostAlert } from '../../components/alerts/HostAlert.tsx';
import { CardsPage } from '../geometry/cards/CardsPage.tsx';
import { AppliancePage } from './appliance/AppliancePage.tsx';
import { InstrumentPages } from './instrument/InstrumentPages.tsx';
import { BackupAndUpkeep } from './upkeep/BackupAndUpkeep.tsx';
import { ApplianceList, VisitList } from './lists.tsx';
import { OfficePage } from './upkeep/OfficePage.tsx';
import { RunTable } from './run/RunTable.tsx';
import { useCalm } from '../../queries/use-calm.ts';
import { VisitPage } from './visit/VisitPage.tsx';
import './History.css';
import './records.css';

const sections = ['visits', 'appliances', 'runs', 'instruments', 'figures', 'office', 'keeping'] as const;
type Section = (typeof sections)[number];

/** Drawn for the office: light unless the person chose a theme, dense, everything selectable. */
export default function RecordsWorkspace() {
  const isLight = useApp((state) => state.settings.theme === 'system');
  const [section, setSection] = useState<Section>('visits');
  const [typed, setTyped] = useState('');
  const [visitId, setVisitId] = useState<string>();
  const [applianceId, setApplianceId] = useState<string>();
  const search = useCalm(typed);
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      const target = event.target as HTMLElement | null;
      const isTyping = target !== null && /^(INPUT|TEXTAREA|SELECT)$/.test(target.tagName);
      if (event.key !== '/' || isTyping || event.ctrlKey || event.altKey || event.metaKey) return;
      event.preventDefault();
      field.current?.focus();
    };
    addEventListener('keydown', onKey);
    return () => removeEventListener('keydown', onKey);
  }, []);
  const showVisit = (id: string): void => {
    setVisitId(id);
    setSection('visits');
  };
  const hasOffice = useApp((state) => state.settings.office.kind !== 'none');
  const isShown = (one: Section): boolean => one !== 'office' || hasOffice;
  const showAppliance = (id: string): void => {
    setApplianceId(id);
    setSection('appliances');
  };
  const hasList = section === 'visits' || section === 'appliances';
  return (
    <div className="records" {...(isLight ? { 'data-theme': 'light' } : {})}>
      <div className="records-head" data-region="main">
        <div className="records-sections" role="group" aria-label={words.sectionsLabel}>
          {sections.filter(isShown).map((one) => (
            <button key={one} type="button" className="button quiet" aria-pressed={one === section} onClick={() => setSection(one)}>
              {words.sections[one]}
            </button>
          ))}
        </div>
        <span className="grow" />
        {hasList && (
          <label className="records-search">
            <span className="hidden-text">{words.search}</span>
            <input
              ref={field}
              type="search"
              value={typed}
              placeholder={words.searchPlaceholder}
              autoComplete="off"
              spellCheck={false}
              onChange={(event) => setTyped(event.target.value)}
            />
            <kbd aria-hidden="true">/</kbd>
          </label>
        )}
      </div>
      <div className="records-main">
        {section === 'visits' && <VisitList search={search} chosen={visitId} choose={setVisitId} />}
        {section === 'appliances' && <ApplianceList search={search} chosen={applianceId} choose={setApplianceId} />}
        {section === 'instruments' && <InstrumentPages />}
        {section !== 'instruments' && (
          <section className="records-page" data-region="right">
            {section === 'visits' && <VisitPage visitId={visitId} gone={() => setVisitId(undefined)} />}
            {section === 'appliances' && (
              <AppliancePage applianceId={applianceId} showVisit={showVisit} gone={() => setApplianceId(undefined)} />
            )}
            {section === 'runs' && <RunTable showVisit={showVisit} />}
            {section === 'figures' && <CardsPage />}
            {section === 'office' && hasOffice && <OfficePage showAppliance={showAppliance} />}
            {section === 'keeping' && <BackupAndUpkeep />}
          </section>
        )}
      </div>
      <HostAlert />
    </div>
  );
}
