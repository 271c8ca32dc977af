// One stop of the keyboard on its way through a page: what has the focus, and how it can be seen.

(() => {
    const main = document.querySelector('[data-testid=stMain]') || document.documentElement;
    const look = one => {  // the element and what surrounds it closely, as they are drawn now
        const drawn = [];
        for (let part = one, up = 0; part && up < 4; part = part.parentElement, up++) {
            const style = getComputedStyle(part);
            drawn.push(style.outlineStyle === 'none' || style.outlineWidth === '0px'
                ? '' : style.outline, style.boxShadow, style.borderColor, style.backgroundColor);
        }
        return drawn.join('|');
    };
    const name = one => (one.getAttribute('aria-label') || one.innerText || one.type || one.tagName)
        .replace(/\s+/g, ' ').trim().slice(0, 50);
    const all = () => [...document.querySelectorAll(
        'a[href], button, summary, input, textarea, [tabindex="0"]')].filter(one =>
        one.tabIndex >= 0 && !one.disabled && one.type !== 'radio' && one.type !== 'hidden'
        && one.checkVisibility({ checkVisibilityCSS: true, checkOpacity: true }) && one.offsetWidth > 1);
    const walk = { met: new Set(), troubles: [], before: null };
    window.keyboardWalk = {
        stop() {
            const now = document.activeElement;
            const { before } = walk;
            if (before && look(before.one) === before.look)
                walk.troubles.push(`no sign of the focus: ${before.name}`);
            if (!now || now === document.body || walk.met.has(now)) return false;
            // The mark of a choice among several is drawn beside its input, in the same label.
            const box = (now.type === 'radio' && now.closest('label') || now).getBoundingClientRect();
            const at = { left: box.left, top: box.top + main.scrollTop, bottom: box.bottom + main.scrollTop };
            if (now.tabIndex > 0) walk.troubles.push(`out of the order of reading: ${name(now)}`);
            if (before && at.bottom <= before.at.top && at.left <= before.at.left)
                walk.troubles.push(`back up the page: ${before.name} / ${name(now)}`);
            const x = Math.min(Math.max(box.left + Math.min(box.width / 2, 40), 1), innerWidth - 1);
            const y = Math.min(Math.max(box.top + Math.min(box.height / 2, 40), 1), innerHeight - 1);
            const over = document.elementFromPoint(x, y);
            if (box.bottom < 0 || box.top > innerHeight || !over || !(now.contains(over) || over.contains(now)
                || now.closest('label')?.contains(over)))
                walk.troubles.push(`hidden while it has the focus: ${name(now)}`);
            walk.met.add(now);
            walk.before = { one: now, look: look(now), name: name(now), at };
            return true;
        },
        end() {
            const missed = all().filter(one => !walk.met.has(one));
            return [...walk.troubles, ...missed.map(one => `never reached: ${name(one)}`)];
        },
        count: () => walk.met.size,
    };
})()
