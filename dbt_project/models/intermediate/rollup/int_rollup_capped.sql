with cells as (
    select * from {{ ref('int_rollup_cells') }}
),

catalogue as (
    select * from {{ ref('int_rollup_catalogue') }}
),

described as (
    select
        cells.*,
        catalogue.shape,
        catalogue.interval_kind,
        catalogue.unit = 'share' as is_share,
        catalogue.unit = 'level' as is_signed
    from cells
    inner join catalogue on cells.measure_name = catalogue.measure_name
),

-- What was given counts up to what was due, routine by routine.
of_routines as (
    select
        described.*,
        least(described.numerator_sum, described.denominator) as capped,
        least(described.numerator_high_sum, described.denominator) as capped_high
    from described
    where described.shape = 'capped_share' and described.routine_id != '*'
),

of_all as (
    select
        measure_name,
        scope_code,
        class_id,
        '*' as tier_code,
        term_id,
        window_code,
        week_first_on,
        sum(capped) as capped,
        sum(capped_high) as capped_high
    from of_routines
    group by measure_name, scope_code, class_id, term_id, window_code, week_first_on
    union all
    select
        measure_name,
        scope_code,
        class_id,
        routine_tier_code as tier_code,
        term_id,
        window_code,
        week_first_on,
        sum(capped) as capped,
        sum(capped_high) as capped_high
    from of_routines
    group by
        measure_name, scope_code, class_id, routine_tier_code, term_id, window_code, week_first_on
),

-- The joins leave every other shape as it was.
capped_cells as (
    select
        described.*,
        case
            when described.shape != 'capped_share' then described.numerator_sum
            when described.routine_id != '*'
                then least(described.numerator_sum, described.denominator)
            else of_all.capped
        end as numerator,
        case
            when described.shape != 'capped_share' then described.numerator_high_sum
            when described.routine_id != '*'
                then least(described.numerator_high_sum, described.denominator)
            else of_all.capped_high
        end as numerator_high
    from described
    left join of_all
        on
            described.measure_name = of_all.measure_name
            and described.scope_code = of_all.scope_code
            and described.class_id = of_all.class_id
            and described.routine_id = '*'
            and described.tier_code = of_all.tier_code
            and described.term_id = of_all.term_id
            and described.window_code = of_all.window_code
            and described.week_first_on is not distinct from of_all.week_first_on
)

select * from capped_cells
