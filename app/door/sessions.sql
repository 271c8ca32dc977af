-- What the door keeps: who is signed in, who tried, who is on the way. Written by the door alone.
-- Of every secret only the SHA-256 is stored; of typed names and addresses too.
create table if not exists session (
    token_sha256 blob primary key,
    subject text not null,                  -- account:<id> or oidc:<issuer> <subject>
    version integer not null,               -- of the account when the visit began; 0 without one
    shown_name text not null,
    reader text not null,                   -- as the provider said; an account is asked each time
    source text not null,                   -- password, demo, proxy, oidc or device
    begun_at real not null,
    seen_at real not null,
    ends_at real not null,
    person_id text not null default ''      -- in the people file, as the provider said
);
create index if not exists session_by_subject on session (subject);

create table if not exists attempt (
    key_sha256 blob primary key,
    attempt_count integer not null,
    last_at real not null
);

create table if not exists errand (
    token_sha256 blob primary key,
    content text not null,
    ends_at real not null
);

-- A class tablet: the code that a teacher made for it, and the tablet once the code was typed.
create table if not exists pairing_code (
    code_sha256 blob primary key,
    maker text not null,                    -- the subject of the teacher
    maker_version integer not null,         -- of her account; 0 without one
    maker_name text not null,
    reader text not null,                   -- the class, as `teacher:room-3`
    person_id text not null,
    is_good_until real not null,            -- the code
    ends_at real not null                   -- the visit that it begins
);

create table if not exists device (
    device_id text primary key,
    maker text not null,
    maker_version integer not null,
    maker_name text not null,
    reader text not null,
    person_id text not null,
    begun_at real not null,
    ends_at real not null
);
