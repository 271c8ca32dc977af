with changes as (
    select * from {{ ref('dim_definition_changes') }}
),

shown as (
    select
        school_id,
        routine_id,
        changed_on,
        label,
        from_version,
        to_version
    from changes
)

select * from shown
