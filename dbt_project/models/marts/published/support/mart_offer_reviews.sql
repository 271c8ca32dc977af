with reviews as (
    select * from {{ ref('fct_offer_reviews') }}
    where team_sees_from_on <= {{ as_of_on() }}
),

matters as (
    select * from {{ ref('fct_offer_matters') }}
    where team_sees_from_on <= {{ as_of_on() }}
),

class_lines as (
    select
        school_id,
        'class' as level_code,
        class_id,
        class_title,
        '*' as grade_code,
        {{ review_columns() }},
        cast(null as bigint) as shown_class_count,
        cast(null as bigint) as class_count
    from reviews
),

matter_lines as (
    select
        *,
        cast(null as string) as class_title,
        'held_on' as review_state,
        cast(null as string) as why_not,
        'below_line' as reason_codes,
        cast(null as string) as sureness,
        cast(null as date) as opened_on,
        {%- for count in ['session', 'day', 'under_session', 'tested', 'review', 'since_session'] %}
        cast(null as bigint) as {{ count }}_count,
        {%- endfor %}
        {%- for figure in ['value', 'since_value', 'upper_one_sided', 'p_value'] %}
        cast(null as double) as {{ figure }},
        {%- endfor %}
        cast(null as double) as adjusted_p
    from matters
),

shown as (
    select * from class_lines
    union all
    select
        school_id,
        level_code,
        '*' as class_id,
        class_title,
        grade_code,
        {{ review_columns() }},
        shown_class_count,
        class_count
    from matter_lines
),

final as (
    select
        *,
        {{ lineage_columns() }}
    from shown
)

select * from final
