{%- set small_cell = threshold('small_cell') -%}
with measures as (
    select * from {{ ref('fct_measures_by_group') }}
    where is_over_children and (is_by_routine or level_code != 'tier')
),

-- Both ends of a share of people, and all of them; where the upper count is none of people, all.
ends as (
    select
        *,
        case when is_of_people then numerator_count else denominator_count end as counted_count,
        case when is_of_people then denominator_count - numerator_count else denominator_count end
            as rest_count,
        grade_code || class_id || tier_code || routine_id as member_code
    from measures
),

whole_terms as (
    select * from ends
    where window_code = 'term'
),

-- The days of the last window lie in the term: the term's count minus the window's is a count of
-- children too. Where it is small the window's figure goes.
differences as (
    select
        ends.*,
        ends.window_code != 'term'
        and coalesce(
            {%- for end in ['counted', 'rest', 'denominator'] %}
            abs(whole_terms.{{ end }}_count - ends.{{ end }}_count)
            between 1 and {{ small_cell }} - 1
            {%- if not loop.last %}
            or{% endif %}
            {%- endfor %},
            false
        ) as is_near_its_term
    from ends
    left join whole_terms
        on
            ends.school_id = whole_terms.school_id
            and ends.level_code = whole_terms.level_code
            and ends.member_code = whole_terms.member_code
            and ends.term_id = whole_terms.term_id
            and ends.measure_name = whole_terms.measure_name
),

-- What a row is part of. Grades and classes add up over all routines, and the school's routines to
-- all of them; a routine in a grade or class is inside of both.
placed as (
    select
        school_id,
        level_code,
        class_id,
        grade_code,
        tier_code,
        routine_id,
        term_id,
        window_code,
        measure_name,
        member_code,
        case
            when level_code = 'tier' then 'tiers'
            when level_code = 'school' and routine_id != '*' then 'routines'
            when level_code = 'school' then 'school'
            when routine_id != '*' then 'inside'
            when level_code = 'class' then total_code
            else '*'
        end as parent_code,
        group_reason,
        coalesce(
            group_reason,
            own_reason,
            case when is_near_its_term then 'complementary' end
        ) as alone_reason,
        counted_count,
        rest_count,
        denominator_count,
        least(counted_count, rest_count) as smaller_count
    from differences
)

select * from placed
