"""The statements that turn the files of a OneRoster set into rows of our feeds."""

KINDS = """case lower(trim({column}))
    when 'schoolyear' then 'school_year'
    when 'gradingperiod' then 'grading_period'
    else {column} end"""

KEPT_CLASSES = """
create or replace table kept_classes as
with years as (
    -- A year that its own dates contradict is replaced by the year in which they end.
    select
        "schoolYear" as written,
        case
            when regexp_full_match("schoolYear", '\\d{{4}}')
                and max(year(iso_date("endDate"))) between "schoolYear"::integer - 1
                    and "schoolYear"::integer
                then "schoolYear"
            else max(year(iso_date("endDate")))::varchar
        end as ends_in
    from "academicSessions"
    group by "schoolYear"
),
class_terms as (
    select
        classes."sourcedId" as class_id,
        min(iso_date(sessions."startDate")) as first_on,
        max(iso_date(sessions."endDate")) as end_on,
        max(years.ends_in) as school_year
    from classes
    cross join unnest(string_split(classes."termSourcedIds", ',')) as listed(session_id)
    inner join "academicSessions" as sessions
        on trim(listed.session_id) = sessions."sourcedId"
    left join years on sessions."schoolYear" is not distinct from years.written
    group by classes."sourcedId"
)
select
    classes."sourcedId" as class_id,
    any_value(lower(trim(classes."classType"))) as class_type,
    any_value(class_terms.first_on) as first_on,
    any_value(class_terms.end_on) as end_on,
    any_value(class_terms.school_year) as school_year
from classes
left join class_terms on classes."sourcedId" = class_terms.class_id
where lower(trim(classes."classType")) in ({class_types})
group by classes."sourcedId"
"""

# A person has one role here: a primary one before a secondary, that before the role of an enrolment
# (for people whose own role is none of ours), then the one nearest to teaching.
PERSON_ROLES = """
create or replace table person_roles as
with written as (
    {source}
    union all
    select "userSourcedId", role, 2 from enrollments
    where lower(trim(role)) in ('student', 'teacher')
),
mapped as (
    select
        written.user_id,
        -- Messages name words of the standard only: any other may be what a person wrote.
        if(lower(trim(written.role)) in ({known_words}), lower(trim(written.role)), 'another word')
            as written_role,
        written.weight,
        role_map.ours,
        role_map.rank
    from written
    left join role_map on lower(trim(written.role)) = role_map.theirs
)
select
    user_id,
    arg_min(ours, rank + 10 * weight) as role,
    count(distinct ours) filter (where weight < 2) as role_count,
    string_agg(distinct written_role, ', ' order by written_role) as written_roles
from mapped
group by user_id
"""
ROLE_SOURCE = {
    "1.1": 'select "sourcedId" as user_id, role, 0 as weight from users',
    "1.2": (
        'select "userSourcedId" as user_id, role, '
        "if(lower(trim(\"roleType\")) = 'primary', 0, 1) as weight from roles "
        "where coalesce(lower(trim(status)), 'active') <> 'tobedeleted'"
    ),
}

SCHOOLS = """
select "sourcedId" as school_id, name, "parentSourcedId" as parent_id, line_number
from orgs
where lower(trim(type)) = 'school' and {lives}
"""

# The schools of the set; a set of changes that has none is for the schools already known.
KNOWN_SCHOOLS = """
create or replace table known_schools as
with sent as (
    select distinct "sourcedId" as school_id from orgs where lower(trim(type)) = 'school'
)
select school_id from sent
union all
select distinct unnest(?::varchar[]) where not exists (select 1 from sent)
"""

# A session goes to each school whose classes use any session of its tree; a tree that no class
# uses goes to every school. Twenty levels end a parent that is its own ancestor.
TERMS = """
with recursive climb as (
    select "sourcedId" as session_id, "sourcedId" as root_id, 0 as depth from "academicSessions"
    union all
    select climb.session_id, sessions."parentSourcedId", climb.depth + 1
    from climb
    inner join "academicSessions" as sessions on climb.root_id = sessions."sourcedId"
    where sessions."parentSourcedId" is not null and climb.depth < 20
),
roots as (
    select session_id, arg_max(root_id, depth) as root_id from climb group by session_id
),
used as (
    select distinct roots.root_id, classes."schoolSourcedId" as school_id
    from classes
    cross join unnest(string_split(classes."termSourcedIds", ',')) as listed(session_id)
    inner join roots on trim(listed.session_id) = roots.session_id
    where classes."schoolSourcedId" is not null
),
placed as (
    select root_id, school_id from used
    union all
    select distinct roots.root_id, known_schools.school_id
    from roots
    cross join known_schools
    where roots.root_id not in (select root_id from used)
)
select
    placed.school_id || ':' || sessions."sourcedId" as term_id,
    placed.school_id,
    {kind} as kind,
    sessions.title,
    placed.school_id || ':' || sessions."parentSourcedId" as parent_term_id,
    sessions."startDate" as first_on,
    coalesce((iso_date(sessions."endDate") - {before})::varchar, sessions."endDate") as last_on,
    sessions.line_number
from "academicSessions" as sessions
inner join roots on sessions."sourcedId" = roots.session_id
inner join placed on roots.root_id = placed.root_id
where {lives}
"""

# periods AM or PM alone is a half-day group; the extension column says it outright.
CLASSES = """
select
    classes."sourcedId" as class_id,
    classes."schoolSourcedId" as school_id,
    classes.title,
    array_to_string(
        list_transform(
            string_split(coalesce(classes.grades, course_grades.grades), ','),
            lambda grade: trim(grade)
        ),
        ';'
    ) as grades,
    coalesce(
        classes."metadata.sessionPattern",
        case when lower(trim(classes.periods)) in ('am', 'pm')
            then lower(trim(classes.periods)) end,
        'full_day'
    ) as session_pattern,
    kept_classes.school_year,
    classes.line_number
from classes
inner join kept_classes on classes."sourcedId" = kept_classes.class_id
left join (
    select "sourcedId" as course_id, any_value(grades) as grades from courses group by "sourcedId"
) as course_grades
    on classes."courseSourcedId" = course_grades.course_id
where {lives}
"""

PEOPLE = """
select
    users."sourcedId" as person_id,
    person_roles.role,
    coalesce({preferred_given}, users."givenName") as given_name,
    coalesce({preferred_family}, users."familyName") as family_name,
    users.line_number
from users
inner join person_roles on users."sourcedId" = person_roles.user_id
where {lives} and person_roles.role is not null
"""

# The standard has no aide among the enrolment roles, so aides are enrolled as teachers or proctors;
# the role of the user is the truer one. A scheduled class is not the home class of its children.
# A blank date means the dates of the class's sessions
# ("must be within the period of the associated Academic Session for the class").
MEMBERSHIPS = """
with enrolled as (
    select
        enrollments.*,
        kept_classes.class_type,
        kept_classes.first_on,
        kept_classes.end_on + {session_after} as after_on,
        lower(trim(enrollments.role)) as enrolled_as,
        person_roles.role as person_role,
        iso_date("endDate") + {after} as ended_on,
        case when lower(trim(status)) = 'tobedeleted'
            then iso_date(left(trim("dateLastModified"), 10)) end as deleted_on
    from enrollments
    {join} join kept_classes on enrollments."classSourcedId" = kept_classes.class_id
    left join person_roles on enrollments."userSourcedId" = person_roles.user_id
),
in_class as (
    select
        *,
        case
            when enrolled_as in ('teacher', 'proctor') and person_role = 'aide' then 'aide'
            when enrolled_as in ('proctor', 'administrator') then null
            else coalesce(enrolled_as, '')
        end as class_role
    from enrolled
)
select
    "classSourcedId" as class_id,
    "userSourcedId" as person_id,
    class_role as role,
    coalesce("beginDate", first_on::varchar) as begin_on,
    case
        when deleted_on is not null then greatest(
            least(deleted_on, ended_on, after_on), coalesce(iso_date("beginDate"), first_on)
        )::varchar
        else coalesce(ended_on::varchar, "endDate", after_on::varchar)
    end as end_on,
    case
        when class_role <> 'student' then lower(trim("primary"))
        when class_type <> '{home}' then 'false'
    end as is_primary,
    null as share,
    null as is_draw_eligible,
    line_number
from in_class
where class_role is not null
"""

# A deleted school, class, session or person is not stored anew; a deleted enrolment ends.
LIVES = "coalesce(lower(trim({file}.status)), 'active') <> 'tobedeleted'"
