with measures as (
    select * from {{ ref('fct_measures_by_group') }}
),

people as (
    select * from {{ ref('fct_people_judged') }}
),

look_cells as (
    select * from {{ ref('fct_look_cells') }}
),

routines as (
    select * from {{ ref('dim_routines') }}
),

-- A tier is the sum of its routines: where one of them is withheld, so is the tier.
withheld_tiers as (
    select distinct
        look_cells.school_id,
        look_cells.term_id,
        look_cells.window_code,
        look_cells.measure_name,
        routines.tier_code
    from look_cells
    inner join routines on look_cells.routine_id = routines.routine_id
    where look_cells.grade_code = '*' and look_cells.suppressed_reason is not null
),

judged_alone as (
    select
        measures.*,
        people.reason as people_reason,
        look_cells.suppressed_reason,
        measures.level_code = 'tier'
        or (measures.level_code = 'grade' and not measures.is_by_routine)
            as is_of_one_total,
        coalesce(
            measures.group_reason,
            measures.own_reason,
            case when withheld_tiers.tier_code is not null then 'complementary' end
        ) as alone_reason,
        -- Looks are no people: any two rows hide one another. Groups of children are counted.
        case
            when measures.is_of_groups then measures.unit_count
            when coalesce(measures.denominator_count, measures.session_count) > 0
                then
                    coalesce(measures.denominator_count, measures.session_count)
                    + {{ threshold('small_cell') }}
        end as company_count
    from measures
    left join people
        on
            measures.school_id = people.school_id
            and measures.level_code = people.level_code
            and measures.class_id = people.class_id
            and measures.grade_code = people.grade_code
            and measures.tier_code = people.tier_code
            and measures.routine_id = people.routine_id
            and measures.term_id = people.term_id
            and measures.window_code = people.window_code
            and measures.measure_name = people.measure_name
    left join look_cells
        on
            measures.level_code in ('school', 'grade')
            and measures.school_id = look_cells.school_id
            and measures.grade_code = look_cells.grade_code
            and measures.routine_id = look_cells.routine_id
            and measures.term_id = look_cells.term_id
            and measures.window_code = look_cells.window_code
            and measures.measure_name = look_cells.measure_name
    left join withheld_tiers
        on
            measures.school_id = withheld_tiers.school_id
            and measures.tier_code = withheld_tiers.tier_code
            and measures.term_id = withheld_tiers.term_id
            and measures.window_code = withheld_tiers.window_code
            and measures.measure_name = withheld_tiers.measure_name
),

judged_together as (
    select
        {{ judged_columns() | join(',\n        ') }},
        group_reason,
        case
            when is_over_children and (is_by_routine or level_code != 'tier')
                then people_reason
            when is_of_one_total
                then {{ withheld_reason(
                'alone_reason',
                ['school_id', 'level_code', 'routine_id', 'term_id', 'window_code', 'measure_name'],
                [['company_count', threshold('small_cell')]],
                'grade_code || tier_code'
            ) }}
            else coalesce(group_reason, suppressed_reason, alone_reason)
        end as reason
    from judged_alone
)

select * from judged_together
