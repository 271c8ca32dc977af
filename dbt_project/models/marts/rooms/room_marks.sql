with marks as (
    select * from {{ ref('fct_class_marks') }}
),

shown as (
    select
        class_id,
        routine_id,
        marked_on,
        mark_code,
        label
    from marks
)

select * from shown
