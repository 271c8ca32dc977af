// What a reader can read of a page as it stands, and what the width of the window does to it.

() => {
    const main = document.querySelector('[data-testid=stMain]') || document.documentElement;
    const width = document.documentElement.clientWidth;
    const clips = style => /hidden|clip|auto|scroll/.test(style.overflowX + style.overflowY);
    const scrolls = style => /auto|scroll/.test(style.overflowX);
    const short = text => text.replace(/\s+/g, ' ').trim().slice(0, 60);
    const isTucked = one => one.clientWidth <= 1 || one.clientHeight <= 1;  // only for listening

    const isSeen = one => one.checkVisibility(
        { checkOpacity: true, checkVisibilityCSS: true, contentVisibilityAuto: true });
    const meet = (a, b) => ({
        left: Math.max(a.left, b.left), right: Math.min(a.right, b.right),
        top: Math.max(a.top, b.top), bottom: Math.min(a.bottom, b.bottom),
    });
    const roomOf = (node) => {  // where its ancestors let it show, the scrolling page set aside
        let room = { left: -Infinity, right: Infinity, top: -Infinity, bottom: Infinity };
        for (let one = node; one && one !== main; one = one.parentElement) {
            if (one instanceof HTMLElement && clips(getComputedStyle(one)))
                room = meet(room, one.getBoundingClientRect());
        }
        return room;
    };
    const inner = document.createTreeWalker(main, NodeFilter.SHOW_TEXT);
    const pieces = [];
    const lost = [];
    for (let node = inner.nextNode(); node; node = inner.nextNode()) {
        const owner = node.parentElement;
        if (!short(node.data) || !isSeen(owner) || owner.closest('style, script, title, desc')) continue;
        const range = document.createRange();
        range.selectNodeContents(node);
        const all = [...range.getClientRects()].filter(box => box.width > 0 && box.height > 0);
        const room = roomOf(owner);
        if (!all.length || room.right - room.left <= 1 || room.bottom - room.top <= 1) continue;
        const scroller = scrollerOf(owner);
        const boxes = all.map(box => meet(box, room)).filter(box => box.right > box.left + 1);
        const isWhole = box => {
            const air = (box.bottom - box.top) / 4;
            return box.left >= Math.max(room.left, 0) - 1.5 && box.right <= Math.min(room.right, width) + 1.5
                && box.top >= room.top - air && box.bottom <= room.bottom + air;
        };
        if (!scroller && !all.every(isWhole)) lost.push(short(node.data));
        const isDrawn = !!owner.closest('svg, .ro-plot');
        const block = isDrawn ? owner
            : owner.closest('p, li, dt, dd, td, th, h1, h2, h3, button, label, summary') || owner;
        pieces.push({ text: short(node.data), block, boxes, isDrawn,
            isIcon: !!owner.closest('[data-testid=stIconMaterial]') });
    }
    function scrollerOf(node) {
        for (let one = node; one && one !== main; one = one.parentElement)
            if (one instanceof HTMLElement && scrolls(getComputedStyle(one))
                && one.scrollWidth > one.clientWidth + 1) return one;
        return null;
    }

    const troubles = [];
    for (const one of new Set([document.documentElement, main]))
        if (one.scrollWidth > one.clientWidth) troubles.push(`the page is ${one.scrollWidth} wide`);
    for (const text of lost) troubles.push(`cut off: ${text}`);

    for (const one of main.querySelectorAll('*')) {
        if (!(one instanceof HTMLElement) || one.scrollWidth <= one.clientWidth + 1) continue;
        const style = getComputedStyle(one);
        if (!scrolls(style) || !isSeen(one) || isTucked(one)) continue;
        const name = one.getAttribute('aria-label') || one.getAttribute('aria-labelledby');
        if (one.tabIndex < 0 || !one.getAttribute('role') || !name)
            troubles.push(`scrolls without a name or out of the keyboard's reach: ${short(one.innerText)}`);
    }

    // Letters need less than their line: a fifth of its height is air above and below.
    const tight = box => {
        const air = (box.bottom - box.top) / 5;
        return { ...box, left: box.left + 1, right: box.right - 1, top: box.top + air, bottom: box.bottom - air };
    };
    const spots = pieces.filter(piece => !piece.isIcon)
        .flatMap(piece => piece.boxes.map(box => ({ ...piece, box: tight(box) })))
        .sort((a, b) => a.box.top - b.box.top);
    spots.forEach((one, at) => {
        for (let next = at + 1; next < spots.length && spots[next].box.top < one.box.bottom; next++) {
            const other = spots[next];
            if (other.block === one.block) continue;
            const both = meet(one.box, other.box);
            if (both.right - both.left > 1 && both.bottom - both.top > 1)
                troubles.push(`one on the other: ${one.text} / ${other.text}`);
        }
    });
    return {
        troubles: [...new Set(troubles)],
        texts: pieces.filter(piece => !piece.isDrawn && !piece.isIcon).map(piece => piece.text),
        pictures: [...main.querySelectorAll('[role=img], [role=graphics-document], img')].filter(isSeen)
            .map(one => one.getAttribute('aria-label') || one.getAttribute('alt') || ''),
    };
}
