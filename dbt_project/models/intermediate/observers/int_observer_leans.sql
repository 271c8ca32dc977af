with gaps as (
    select * from {{ ref('int_observer_gaps') }}
),

scores as (
    select * from {{ ref('int_session_scores') }}
    where is_current_year
),

-- From pairs: the same visit, so that only the two observers differ.
of_pairs as (
    select
        school_id,
        measure_kind,
        observer_id,
        count(*) as pair_count,
        avg(adjusted_difference) as effect,
        sum(power(adjusted_difference, 2)) as square_sum
    from gaps
    group by school_id, measure_kind, observer_id
),

pooled as (
    select
        school_id,
        measure_kind,
        sum(square_sum - pair_count * effect * effect) / 2.0 as left_over,
        sum(pair_count) / 2.0 - count(*) + 1.0 as left_df
    from of_pairs
    group by school_id, measure_kind
),

-- From visits alone: against what others saw in the same class and routine in the same term.
cells as (
    select
        *,
        sum(score) over (partition by class_id, routine_id, term_id, measure_kind) as cell_sum,
        count(*) over (partition by class_id, routine_id, term_id, measure_kind) as cell_count,
        sum(score) over (
            partition by class_id, routine_id, term_id, measure_kind, observer_id
        ) as own_sum,
        count(*) over (
            partition by class_id, routine_id, term_id, measure_kind, observer_id
        ) as own_count
    from scores
),

consensus as (
    select
        school_id,
        measure_kind,
        observer_id,
        count(distinct visit_id) as visit_count,
        count(case when cell_count > own_count then 1 end) as compared_count,
        avg(score - (cell_sum - own_sum) / nullif(cell_count - own_count, 0)) as effect,
        var_samp(score - (cell_sum - own_sum) / nullif(cell_count - own_count, 0)) as spread
    from cells
    group by school_id, measure_kind, observer_id
),

final as (
    select
        consensus.school_id,
        consensus.measure_kind,
        consensus.observer_id,
        consensus.visit_count,
        coalesce(of_pairs.pair_count, 0) as pair_count,
        case
            when of_pairs.pair_count >= {{ threshold('agreement_min_pairs') }} then 'pairs'
            when consensus.compared_count >= {{ threshold('agreement_min_pairs') }} then 'consensus'
            else 'none'
        end as basis_code,
        of_pairs.effect as pair_effect,
        pooled.left_over / nullif(pooled.left_df, 0.0) / nullif(of_pairs.pair_count, 0)
            as pair_variance,
        pooled.left_df as pair_df,
        consensus.effect as consensus_effect,
        consensus.spread / nullif(consensus.compared_count, 0) as consensus_variance,
        consensus.compared_count - 1.0 as consensus_df
    from consensus
    left join of_pairs
        on
            consensus.school_id = of_pairs.school_id
            and consensus.measure_kind = of_pairs.measure_kind
            and consensus.observer_id = of_pairs.observer_id
    left join pooled
        on
            consensus.school_id = pooled.school_id
            and consensus.measure_kind = pooled.measure_kind
)

select * from final
