-- The hat: for each class the children of the running round and which device holds which name.
-- A name that nobody holds lies in the hat. Written by the server, one change at a time; each build
-- forgets classes that are not in touch any more (`ingest/old_rounds.py`).
create table if not exists hat (
    class_id text primary key,
    round integer not null,
    lent_to text not null,                  -- the device that may begin the next round by itself
    lent_at integer not null                -- the message of that device it was told so in answer to
);

create table if not exists hat_child (
    class_id text not null,
    pupil_id text not null,
    holder text not null,                   -- a device; empty while the name lies in the hat
    had_turn integer not null,
    away_on text not null,                  -- the day on which the name came up for an absent child
    comes_first integer not null,
    is_marked integer not null,             -- the name came up in this round for an absent child
    primary key (class_id, pupil_id)
) without rowid;

create table if not exists hat_device (
    class_id text not null,
    device text not null,
    message integer not null,               -- the latest message that was answered
    heard integer not null,                 -- the latest piece of news that was taken in
    wants integer not null,
    seen_at real not null,
    state text not null check (state in ('open', 'left', 'ended')),
    primary key (class_id, device)
) without rowid;

-- What was drawn lately: for the numbers within a day, and for taking a draw back.
create table if not exists hat_draw (
    class_id text not null,
    draw_id text not null,
    device text not null,
    drawn_on text not null,
    sequence_number integer not null,
    clock integer not null,
    is_undone integer not null,
    primary key (class_id, draw_id)
) without rowid;
create index if not exists hat_draw_by_day on hat_draw (class_id, drawn_on);
