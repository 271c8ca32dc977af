with versions as (
    select * from {{ ref('dim_routine_versions') }}
),

schools as (
    select * from {{ ref('dim_schools') }}
),

in_order as (
    select
        routine_id,
        version,
        valid_from_on,
        lag(version) over (
            partition by routine_id
            order by version
        ) as from_version
    from versions
),

shown as (
    select
        schools.school_id,
        in_order.routine_id,
        in_order.valid_from_on as changed_on,
        'new wording' as label,
        cast(in_order.from_version as bigint) as from_version,
        cast(in_order.version as bigint) as to_version
    from in_order
    cross join schools
    where
        in_order.from_version is not null
        and in_order.valid_from_on <= {{ as_of_on() }}
)

select * from shown
