with classes as (
    select * from {{ ref('int_rollup_classes') }}
),

levels as (
    select * from {{ ref('int_rollup_levels') }}
),

finished as (
    select * from {{ ref('int_rollup_finished') }}
),

figures as (
    select
        measure_name,
        {{ finished_columns() | indent(4) }}
    from classes
    union all
    select
        measure_name,
        {{ finished_columns() | indent(4) }}
    from levels
    union all
    select
        measure_name,
        {{ finished_columns() | indent(4) }}
    from finished
)

select * from figures
