{%- set upper_tail = '1.0 - (1.0 - ' ~ threshold('ci_level') ~ ') / 2.0' -%}
with leans as (
    select * from {{ ref('int_observer_leans') }}
),

lines as (
    select * from {{ ref('int_observer_drifts') }}
),

chosen as (
    select
        *,
        case basis_code when 'pairs' then pair_effect when 'consensus' then consensus_effect end
            as difference,
        case basis_code when 'pairs' then pair_variance when 'consensus' then consensus_variance
        end as variance,
        case basis_code when 'pairs' then pair_df when 'consensus' then consensus_df end as df
    from leans
),

middles as (
    select
        school_id,
        measure_kind,
        count(*) as observer_count,
        median(difference) as middle
    from chosen
    group by school_id, measure_kind
),

-- From the middle observer, so that one who sees little does not make all others lenient.
centred as (
    select
        chosen.school_id,
        chosen.measure_kind,
        chosen.observer_id,
        chosen.basis_code,
        chosen.visit_count,
        chosen.pair_count,
        chosen.variance,
        chosen.df,
        middles.observer_count,
        chosen.difference - middles.middle as difference
    from chosen
    inner join middles
        on
            chosen.school_id = middles.school_id
            and chosen.measure_kind = middles.measure_kind
),

spreads as (
    {{ between_spread('centred', ['school_id', 'measure_kind'], 'difference', 'variance') }}
),

-- Each towards "no lean", by as much as its own error beside how much observers differ at all.
shrunk as (
    select
        centred.*,
        case
            when centred.variance = 0.0 then 1.0
            else {{ shrink_weight('centred.variance', 'spreads.tau2') }}
        end as own_weight
    from centred
    left join spreads
        on
            centred.school_id = spreads.school_id
            and centred.measure_kind = spreads.measure_kind
),

ranged as (
    select
        shrunk.*,
        shrunk.own_weight * shrunk.difference as lean,
        sqrt(shrunk.variance) * {{ t_quantile(upper_tail, 'shrunk.df') }} as margin,
        case
            when lines.point_count >= {{ threshold('drift_min_pairs') }} then lines.slope
        end as drift,
        lines.slope_se * {{ t_quantile(upper_tail, 'lines.residual_df') }} as drift_margin
    from shrunk
    left join lines
        on
            shrunk.school_id = lines.school_id
            and shrunk.measure_kind = lines.measure_kind
            and shrunk.observer_id = lines.observer_id
),

final as (
    select
        school_id,
        measure_kind,
        observer_id,
        basis_code,
        {{ range_word(
            'difference', 'margin', 'sees_less', 'alike', 'sees_more', threshold('lean_line'),
            'lean') }}
            as reading_code,
        {{ range_word('drift', 'drift_margin', 'falling', 'steady', 'rising') }} as drift_code,
        cast(observer_count as bigint) as observer_count,
        cast(visit_count as bigint) as visit_count,
        cast(pair_count as bigint) as pair_count,
        {{ nine_places('difference') }} as difference,
        {{ nine_places('difference - margin') }} as difference_low,
        {{ nine_places('difference + margin') }} as difference_high,
        round(own_weight, 9) as own_weight,
        round(lean, 9) as lean,
        {{ nine_places('drift') }} as drift_per_month,
        {{ nine_places('drift - drift_margin') }} as drift_low,
        {{ nine_places('drift + drift_margin') }} as drift_high
    from ranged
)

select * from final
