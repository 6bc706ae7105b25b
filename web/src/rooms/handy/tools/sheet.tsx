// One refrigerant's sheet.
import type { UseCases } from '../../../engine/engine';
import { prefs } from '../../../shell/prefs';
import { useAsk } from '../../../shell/use_ask';
import { say } from '../../../words/words';
import { useStanding } from '../problems';
import { refrigerant } from '../recent';
import { RefrigerantChoice } from '../refrigerant_choice';
import { Cautions, Facts, Headline, OtherProblem, RestsOn, ToolScreen, type Said } from '../tool';

type Sheet = UseCases['refrigerant']['answer'];

/** "-43.8 °F", or both ends of a blend's. */
function boiling(point: { bubble: { text: string }; dew: { text: string } }): string {
  return point.bubble.text === point.dew.text ? point.dew.text : `${point.bubble.text} – ${point.dew.text}`;
}

function warming(sheet: Sheet): Said[] {
  return sheet.warming.map((w) => ({
    label: say('handy.warming', { report: w.report, years: w.years }),
    text: w.figure?.text ?? '–',
  }));
}

function flammability(sheet: Sheet): Said[] {
  return sheet.lower_flammability_limits.map((l) => ({
    label: l.edition.replace(/, recalled$/, ''),
    text: l.volume_fraction ? `${l.text} · ${l.volume_fraction.text}` : l.text,
  }));
}

export function RefrigerantSheet() {
  const asked = useAsk('refrigerant', { refrigerant: refrigerant(), units: prefs.units.value });
  const problem = useStanding(asked.problem);
  const sheet = asked.answer;
  return (
    <ToolScreen title={say('handy.sheet')}>
      <Headline
        figures={
          sheet
            ? [
                {
                  label: sheet.name ?? sheet.designation,
                  text: sheet.safety_class?.value ?? say('handy.no_class'),
                },
              ]
            : null
        }
        note={sheet?.safety_class?.text.replace(/^\S+: /, '')}
        waiting=""
      />
      <OtherProblem problem={problem} fields={['refrigerant']} />
      <RefrigerantChoice problem={problem} />
      {sheet && (
        <>
          <Cautions lines={sheet.cautions} />
          {sheet.note && <p>{sheet.note}</p>}
          <Facts
            facts={[
              sheet.also_called.length > 0 && {
                label: say('handy.also_called'),
                text: sheet.also_called.join(', '),
              },
              !!sheet.normal_boiling_point && {
                label: say('handy.boils_at'),
                text: boiling(sheet.normal_boiling_point),
              },
              !!sheet.critical_point && {
                label: say('handy.critical_point'),
                text: `${sheet.critical_point.temperature.text} · ${sheet.critical_point.pressure.text}`,
              },
              !!sheet.ozone_depletion && { label: say('handy.ozone'), text: sheet.ozone_depletion.text },
              !!sheet.cas && { label: say('handy.cas'), text: sheet.cas },
            ]}
          />
          {sheet.composition.length > 1 && (
            <Facts
              title={say('handy.composition')}
              facts={sheet.composition.map((c) => ({
                label: `${c.designation}, ${c.name}`,
                text: c.mass_fraction.text,
              }))}
            />
          )}
          <Facts
            title={say('handy.oils')}
            facts={sheet.oils.map((o) => ({ label: o.name, text: o.family }))}
          />
          <Facts title={say('handy.burns_from')} facts={flammability(sheet)} />
          <Facts title={say('handy.warming_title')} facts={warming(sheet)} />
        </>
      )}
      <RestsOn about={sheet?.about} />
    </ToolScreen>
  );
}
