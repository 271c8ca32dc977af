-- Who may sign in. Written by `roundelay account` alone; the dashboard opens this file read-only.
-- The file is accounts.sqlite in the workspace. A change of this layout is a new user_version.
pragma user_version = 2;

create table if not exists account (
    account_id text primary key,            -- drawn at random, never used twice
    account_name text not null unique,      -- what is typed: NFKC, lower case
    shown_name text not null,               -- what the header says
    role text not null check (role in ('principal', 'support', 'steward', 'teacher')),
    class_id text check ((role = 'teacher') = (class_id is not null)),
    password_hash text,                     -- argon2id; null: no password opens this account
    version integer not null default 1,     -- one more with each change; visits of older ones end
    is_closed integer not null default 0 check (is_closed in (0, 1)),
    made_at text not null,
    changed_at text not null,
    person_id text                          -- who this is in the people file; null: not said (since 2)
);

-- Visits that began before a moment (seconds since 1970) are over: of one subject, or of all (*).
create table if not exists ended (
    subject text primary key,
    before_at real not null
);
