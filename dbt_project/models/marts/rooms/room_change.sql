with signals as (
    select * from {{ ref('fct_change_signals') }}
),

classes as (
    select * from {{ ref('dim_classes') }}
    where is_current
),

shown as (
    select
        signals.school_id,
        signals.class_id,
        signals.routine_id,
        signals.measure_name,
        {{ change_columns('signals') }},
        {{ lineage_columns() }}
    from signals
    inner join classes on signals.class_id = classes.class_id
)

select * from shown
