import { isContractField, type ContractField } from '../../model/contract-fields.ts';

/**
 * Words of header cells and the field that each names, without units of measure, capitals and marks. Short words of
 * workshops in English, German, French, Spanish, Portuguese, Italian and Dutch (common practice). A table, so longer than its idea.
 */
const WORDS: Partial<Record<ContractField, readonly string[]>> = {
  unit: [
    'unit no',
    'unit number',
    'unit id',
    'vehicle',
    'vehicle id',
    'vehicle no',
    'vehicle number',
    'asset',
    'asset id',
    'truck',
    'bus',
    'machine',
    'equipment',
    'fleet no',
    'fleet number',
    'registration',
    'number plate',
    'kennzeichen',
    'fahrzeug',
    'fahrzeugnummer',
    'fahrzeug nr',
    'vehicule',
    'vehiculo',
    'unidad',
    'unite',
    'veiculo',
    'veicolo',
    'voertuig',
  ],
  time: [
    'timestamp',
    'date time',
    'datetime',
    'time stamp',
    'date and time',
    'zeit',
    'zeitstempel',
    'zeitpunkt',
    'datum uhrzeit',
    'horodatage',
    'date heure',
    'temps',
    'fecha hora',
    'fecha y hora',
    'data e hora',
    'data ora',
    'tiempo',
    'time utc',
    'local time',
    'event time',
    'start time',
    'elapsed',
    'elapsed time',
    'relative time',
    'gps time',
    'when',
  ],
  volts: [
    'voltage',
    'volt',
    'battery voltage',
    'battery volts',
    'batt voltage',
    'batt volts',
    'batt volt',
    'batt',
    'vbat',
    'vbatt',
    'v bat',
    'ubat',
    'u bat',
    'ubatt',
    'system voltage',
    'supply voltage',
    'external voltage',
    'ext voltage',
    'vehicle voltage',
    'spannung',
    'batteriespannung',
    'bordspannung',
    'tension',
    'tension batterie',
    'voltaje',
    'voltaje bateria',
    'tension bateria',
    'tensao',
    'tensione',
    'spanning',
  ],
  amps: ['current', 'battery current', 'amp', 'ibat', 'i bat', 'strom', 'batteriestrom', 'courant', 'corriente'],
  temp_c: [
    'temp',
    'temperature',
    'battery temp',
    'battery temperature',
    'ambient',
    'ambient temp',
    'ambient temperature',
    'temperatur',
    'batterietemperatur',
    'aussentemperatur',
    'temperatura',
  ],
  coolant_c: ['coolant', 'coolant temp', 'coolant temperature', 'kuhlmittel', 'kuhlmitteltemperatur', 'refrigerante'],
  rpm: ['engine speed', 'engine rpm', 'drehzahl', 'motordrehzahl', 'regime', 'regime moteur', 'regimen'],
  start_request: ['start request', 'starter request', 'startanforderung'],
  control_volts: ['control voltage', 'control terminal', 'solenoid voltage', 'steuerspannung'],
  rest_volts: [
    'rest',
    'rest voltage',
    'resting voltage',
    'rest volt',
    'vrest',
    'v rest',
    'voltage before',
    'ruhespannung',
    'tension repos',
  ],
  dip_volts: [
    'dip',
    'dip voltage',
    'vmin',
    'v min',
    'min volts',
    'min voltage',
    'minimum voltage',
    'lowest voltage',
    'voltage min',
    'minimalspannung',
  ],
  crank_volts: ['crank voltage', 'cranking voltage', 'startspannung'],
  crank_seconds: [
    'crank time',
    'crank duration',
    'duration',
    'cranking time',
    'cranking duration',
    'startdauer',
    'duree demarrage',
  ],
  crank_rpm: ['cranking speed', 'crank speed', 'anlassdrehzahl'],
  charge_volts: ['charge voltage', 'charging voltage', 'ladespannung'],
  amps_peak: ['peak current', 'max current', 'spitzenstrom'],
  outcome: ['result'],
  work_order: [
    'wo',
    'wo no',
    'work order no',
    'work order number',
    'order no',
    'order number',
    'auftrag',
    'auftragsnummer',
    'auftrag nr',
    'orden',
  ],
  opened: [
    'open date',
    'opened on',
    'date opened',
    'reported',
    'date reported',
    'date in',
    'eroffnet',
    'auftragsdatum',
  ],
  closed: ['close date', 'closed on', 'date closed', 'completed', 'date completed', 'date out', 'abgeschlossen'],
  complaint: ['problem', 'reported problem', 'beanstandung', 'plainte', 'queja', 'symptom'],
  cause: ['reason found', 'ursache', 'causa'],
  correction: ['repair', 'work done', 'action taken', 'reparatur', 'reparation', 'reparacion'],
  odometer_km: [
    'odometer',
    'odo',
    'mileage',
    'kilometers',
    'kilometres',
    'kilometerstand',
    'km stand',
    'kilometrage',
    'kilometraje',
  ],
  engine_hours: ['hours meter', 'hour meter', 'engine hour', 'betriebsstunden', 'motorstunden'],
  labor_hours: ['labour hours', 'labor hrs', 'arbeitsstunden'],
  parts_cost: ['parts', 'cost of parts', 'teilekosten'],
  depot: ['site', 'base', 'garage', 'standort', 'location'],
  class: ['type', 'vehicle class', 'vehicle type', 'fahrzeugklasse', 'clase', 'classe'],
  system_volts: ['system volt', 'nominal voltage', 'bordnetz', 'tension sistema', 'tension nominale'],
  battery_count: ['batteries', 'number of batteries', 'anzahl batterien', 'numero baterias', 'nombre batteries'],
  battery_cca: ['cca', 'cold cranking amps'],
  cylinders: ['cyl', 'number of cylinders', 'zylinder', 'cylindres', 'cilindros'],
};
const DATE_WORDS = ['date', 'datum', 'fecha', 'jour', 'day', 'tag', 'utc date', 'local date'];
const CLOCK_WORDS = ['time', 'uhrzeit', 'heure', 'hora', 'clock', 'utc time', 'time of day', 'zeit', 'ora', 'tijd'];
/** Channels of an instrument: a voltage by their unit of measure, never by their name. */
const CHANNEL = /^(ch|chan|channel|kanal|canal|voie|probe) ?([a-h]|\d{1,2})?$/;

const FIELD_OF = new Map(
  Object.entries(WORDS).flatMap(([field, words]) => words.map((word) => [word, field as ContractField] as const)),
);

/** What a header cell is taken to name. `halves`: a date or clock column, of which two make a time. */
export type NamedColumn = { field: ContractField | null; half: 'date' | 'time' | null; channel: boolean };

export function namedColumn(name: string): NamedColumn {
  const exact = name.trim().toLowerCase();
  const words = headerWords(name);
  const half = DATE_WORDS.includes(words) ? 'date' : CLOCK_WORDS.includes(words) ? 'time' : null;
  if (isContractField(exact)) return { field: exact, half, channel: false };
  if (half !== null) return { field: 'time', half, channel: false };
  const underscored = words.replaceAll(' ', '_');
  const field = FIELD_OF.get(words) ?? (isContractField(underscored) ? underscored : null);
  return { field, half: null, channel: field === null && CHANNEL.test(words) };
}

/** Longer texts name no column. */
const MOST_CHARACTERS = 100;

/** `Batterie-Spannung [mV]` → `batterie spannung`; marks over letters go. */
export function headerWords(name: string): string {
  return name
    .slice(0, MOST_CHARACTERS)
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .replace(/[([{].*?[)\]}]/g, ' ')
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .toLowerCase()
    .replace(/ß/g, 'ss')
    .replace(/[^a-z0-9]+/g, ' ')
    .replace(/ (mv|millivolts?|v|ma|degf|degc|f|c|ms|sec|s|mi|miles|km|hrs|h)$/g, '')
    .trim();
}
