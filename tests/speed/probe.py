# SPDX-License-Identifier: Apache-2.0
"""What runs inside the page: an ear at its store, eyes for its keys. It changes nothing of what the app does.

A moment is told in milliseconds behind the touch's own time, which the browser stamps before the page hears of it.
"Painted" is the first task behind the frame that draws a change: what the page's thread does of it is done then.
"""

from __future__ import annotations

# Before any script of the app: `speed.taps` has a line for each touch of a defect key.
PROBE = """(() => {
    const taps = [], long = [];
    window.speed = { taps, long, line: '', store: undefined, usable: undefined };
    // One channel for all: to make one costs the frame that is measured a fifth of its time.
    const { port1, port2 } = new MessageChannel(), behind = [];
    port1.onmessage = () => behind.shift()(performance.now());
    const painted = (then) => requestAnimationFrame(() => {
        behind.push(then);
        port2.postMessage(0);
    });
    window.speed.painted = painted;
    const next = (what) => taps.find((tap) => tap[what] === undefined);
    const Made = window.Worker;
    window.Worker = class extends Made {
        constructor(...words) {
            super(...words);
            window.speed.store ??= this;
            this.addEventListener('message', ({ data }) => {
                const { line, why } = data.answer ?? {};
                if (line === undefined || why !== undefined) return;
                if (!line.includes('"kind":"defect_tallied"')) return;
                window.speed.line = line;
                const tap = next('flushed');
                if (tap !== undefined) tap.flushed = performance.now() - tap.at;
            });
        }
        postMessage(...words) {
            if (words[0]?.draft?.kind === 'defect_tallied') {
                const tap = next('asked');
                if (tap !== undefined) tap.asked = performance.now() - tap.at;
            }
            super.postMessage(...words);
        }
    };
    document.addEventListener('pointerdown', (event) => {
        if (event.target.closest('.defect-key') !== null) taps.push({ at: event.timeStamp });
    }, true);
    const turned = () => {
        const tap = next('turned');
        if (tap === undefined) return;
        tap.turned = performance.now() - tap.at;
        painted((now) => { tap.pressed = now - tap.at; });
    };
    const said = () => {
        const tap = next('said');
        if (tap === undefined) return;
        tap.said = performance.now() - tap.at;
        painted((now) => {
            tap.stored = now - tap.at;
            window.say('stored');
        });
    };
    const look = (changes) => {
        for (const { type, target, addedNodes } of changes) {
            if (type === 'attributes' && target.dataset.flash === 'on') turned();
            // One element may become another: what was a count is then the word.
            const found = type === 'attributes' ? [target] : [...addedNodes];
            if (found.some((node) => node.classList?.contains('key-said'))) said();
        }
        if (window.speed.usable === undefined && document.querySelector('.pad .defect-key') !== null) {
            window.speed.usable = 0;
            painted((now) => { window.speed.usable = now; });
        }
    };
    const all = { childList: true, subtree: true, attributes: true, attributeFilter: ['data-flash', 'class'] };
    new MutationObserver(look).observe(document, all);
    new PerformanceObserver((list) => {
        for (const { startTime, duration } of list.getEntries()) long.push({ startTime, duration });
    }).observe({ type: 'longtask', buffered: true });
})()"""

# More records of the tablet's own, made by its store as any other: batches of 500, trays of 50 finds.
MAKE = """(async (count) => {
    const { device, site, sign_on, definition } = JSON.parse(speed.line);
    const { time_zone, offset_min } = JSON.parse(speed.line);
    let number = 1e6, made = 0, batch, tray;
    const add = (draft) => new Promise((resolve, reject) => {
        const mine = (number += 1);
        const hear = ({ data }) => {
            if (data.number !== mine) return;
            speed.store.removeEventListener('message', hear);
            const { line, why } = data.answer;
            if (why !== undefined) reject(new Error(why));
            else resolve(JSON.parse(line));
        };
        speed.store.addEventListener('message', hear);
        const stamp = { made_at: Date.now(), offset_min, time_zone, skew_ms: 0, sign_on };
        speed.store.postMessage({ ask: 'append', draft, writer: { device, site }, stamp, number: mine });
        made += 1;
    });
    while (made < count) {
        if (made % 500 === 0) {
            const opened = { number: `WEEK-${Date.now()}`, pieces: 681 };
            const { chain, n } = await add({ kind: 'batch_opened', v: 1, definition, body: opened });
            batch = `${chain}:${n}`;
            tray = undefined;
        }
        const about = { v: 1, batch, definition };
        if (tray === undefined || made % 50 === 0) {
            const body = { look: 'first', number: 1 + Math.floor(made % 500 / 50), places: 60 };
            const { chain, n } = await add({ ...about, kind: 'tray_opened', body });
            tray = `${chain}:${n}`;
        }
        const defect = ['lap', 'burn', 'staining', 'underfill', 'not_sure'][made % 5];
        await add({ ...about, kind: 'defect_tallied', body: { look: 'first', tray, defect } });
    }
    return made;
})"""

# From the address of the Pareto to its table on the screen.
TALLY = """new Promise((done) => {
    const began = performance.now();
    const seen = new MutationObserver(() => {
        if (document.querySelector('main table tbody tr') === null) return;
        seen.disconnect();
        speed.painted((now) => done(now - began));
    });
    seen.observe(document, { childList: true, subtree: true });
    location.hash = '#/en/pareto';
})"""
