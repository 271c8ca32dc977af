with cells as (
    select * from {{ ref('int_rollup_values') }}
    where
        scope_code = 'class'
        and tier_code = '*'
        and window_code = 'term'
        and shape = 'session_mean'
),

-- One spread for all classes: that of four visits of one's own is too rough to be a weight.
final as (
    select
        school_id,
        class_id,
        routine_id,
        term_id,
        measure_name,
        is_share,
        session_count,
        value,
        pooled_variance as visit_variance,
        pooled_df as visit_df,
        pooled_variance / session_count as error_variance
    from cells
    where
        value is not null
        and session_count >= 1
        and pooled_df >= {{ pooled_df_needed() }}
        and pooled_variance > 0.0
)

select * from final
