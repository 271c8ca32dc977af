with signals as (
    select * from {{ ref('fct_school_signals') }}
),

-- A chart is drawn of the weeks that are shown: it tells nothing that they do not.
shown as (
    select
        signals.school_id,
        signals.routine_id,
        signals.measure_name,
        signals.baseline_first_on,
        signals.baseline_code,
        signals.last_week_first_on,
        signals.signal_code,
        signals.is_last_outside,
        signals.session_count,
        signals.withheld_week_count,
        {{ run_columns('signals') }},
        signals.spread_ratio,
        {{ withheld_columns('signals.reason') }},
        {{ lineage_columns() }}
    from signals
)

select * from shown
