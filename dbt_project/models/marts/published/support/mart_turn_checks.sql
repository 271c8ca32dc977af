{%- set checks = {
    'never_drawn_in_cycle': 'cycles',
    'drawn_twice_in_cycle': 'cycles',
    'newcomer_not_added': 'children',
    'leaver_still_drawn': 'draws',
    'never_drawn_in_term': 'children',
    'long_wait': 'children',
} -%}
with findings as (
    select * from {{ ref('fct_turn_findings') }}
),

classes as (
    select * from {{ ref('dim_classes') }}
    where is_current
),

terms as (
    select * from {{ ref('dim_terms') }}
    where has_started and is_current_year
),

checks as (
    {%- for name, thing in checks.items() %}
    select
        '{{ name }}' as check_name,
        '{{ thing }}' as counted_thing
    {%- if not loop.last %}
    union all
    {%- endif %}
    {%- endfor %}
),

grid as (
    select
        classes.class_id,
        classes.school_id,
        terms.term_id,
        checks.check_name,
        checks.counted_thing
    from classes
    inner join terms on classes.school_id = terms.school_id
    cross join checks
),

judged as (
    select
        grid.*,
        coalesce(findings.finding_count, 0) as finding_count,
        findings.checked_count,
        findings.limit_days,
        findings.first_found_on,
        findings.last_found_on,
        case
            when
                grid.counted_thing = 'children'
                and findings.finding_count > 0
                and findings.finding_count < {{ threshold('small_cell') }}
                then 'small_cell'
        end as reason
    from grid
    left join findings
        on
            grid.class_id = findings.class_id
            and grid.term_id = findings.term_id
            and grid.check_name = findings.check_name
),

shown as (
    select
        class_id,
        school_id,
        term_id,
        check_name,
        counted_thing,
        finding_count > 0 as is_found,
        case when reason is null then cast(finding_count as bigint) end as finding_count,
        case when counted_thing != 'children' then cast(checked_count as bigint) end
            as checked_count,
        limit_days,
        first_found_on,
        last_found_on,
        {{ withheld_columns('reason') }},
        {{ lineage_columns() }}
    from judged
)

select * from shown
