/**
 * Rescue: reads the phone's log and offers it as a file. It shares no code with the app on
 * purpose, so that no fault of the app can stand in its way.
 */
(() => {
  const COLUMNS =
    'format,log_id,seq,event_id,after,recorded_at,utc_offset_min,kind,cup,job,step,component,lot,container,value,unit,typed,target,shown,scale,person,refers_to,note,system,app_version'.split(',');
  const outcome = /** @type {HTMLElement} */ (document.getElementById('outcome'));
  const link = /** @type {HTMLAnchorElement} */ (document.getElementById('file'));

  /** @param {unknown} value */
  const quoted = (value) => {
    const text = String(value ?? '');
    return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
  };

  /** @param {Record<string, any>[]} rows */
  const offer = (rows) => {
    const extra = [...new Set(rows.flatMap((row) => (row.extra ?? []).map((/** @type {string[]} */ pair) => pair[0])))];
    const lines = rows.map((row) => {
      const kept = new Map(row.extra ?? []);
      return [...COLUMNS.map((name) => row[name]), ...extra.map((name) => kept.get(name))];
    });
    const csv = [[...COLUMNS, ...extra], ...lines].map((line) => `${line.map(quoted).join(',')}\r\n`).join('');
    link.href = URL.createObjectURL(new Blob([csv], { type: 'text/csv' }));
    link.hidden = false;
    outcome.textContent = `${rows.length} rows · Zeilen`;
  };

  /** @param {unknown} error */
  const fail = (error) => {
    outcome.textContent = `The log cannot be read · Das Protokoll ist nicht lesbar: ${error}`;
  };

  const opening = indexedDB.open('companion-bench');
  opening.onupgradeneeded = () => opening.transaction?.abort();
  opening.onerror = () => fail('no log on this phone · kein Protokoll auf diesem Telefon');
  opening.onsuccess = () => {
    const database = opening.result;
    database.onversionchange = () => database.close();
    try {
      const request = database.transaction('rows').objectStore('rows').getAll();
      request.onsuccess = () => offer(request.result);
      request.onerror = () => fail(request.error);
    } catch (error) {
      fail(error);
    }
  };
})();
