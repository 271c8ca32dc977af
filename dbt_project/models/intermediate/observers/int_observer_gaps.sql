with pairs as (
    select * from {{ ref('int_pair_scores') }}
    where is_current_year
),

{% set keys = ['school_id', 'measure_kind'] -%}
differences as (
    select
        *,
        first_score - second_score as difference
    from pairs
),

effects as (
    {{ mutual_effects(
        'differences', keys, 'first_observer_id', 'second_observer_id', 'difference') }}
),

sides as (
    select
        school_id,
        measure_kind,
        pair_id,
        observed_on,
        first_observer_id as observer_id,
        second_observer_id as partner_id,
        difference
    from differences
    union all
    select
        school_id,
        measure_kind,
        pair_id,
        observed_on,
        second_observer_id as observer_id,
        first_observer_id as partner_id,
        -difference as difference
    from differences
),

-- Against a strict partner anybody looks lenient: the partner's own lean is put back.
final as (
    select
        sides.*,
        sides.difference + partners.effect as adjusted_difference
    from sides
    inner join effects as partners
        on
            sides.school_id = partners.school_id
            and sides.measure_kind = partners.measure_kind
            and sides.partner_id = partners.member
)

select * from final
