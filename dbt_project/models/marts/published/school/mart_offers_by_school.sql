with offers as (
    select * from {{ ref('fct_offers') }}
),

schools as (
    select * from {{ ref('dim_schools') }}
),

grades as (
    select * from {{ ref('dim_grades_withheld') }}
),

terms as (
    select * from {{ ref('dim_terms') }}
    where is_current
),

counted as (
    select
        terms.school_id,
        terms.term_id,
        count(*) filter (where offers.state_code = 'offer') as open_count,
        count(*) filter (where offers.state_code = 'waiting') as waiting_count,
        count(*) filter (where offers.state_code in ('held_grade', 'held_school')) as held_count,
        count(distinct offers.class_id) filter (where offers.state_code = 'offer')
            as open_class_count,
        count(distinct offers.class_id) filter (where offers.state_code = 'waiting')
            as waiting_class_count,
        count(distinct offers.class_id) filter (
            where offers.state_code in ('held_grade', 'held_school')
        ) as held_class_count
    from terms
    left join offers
        on
            terms.school_id = offers.school_id
            and terms.term_id = offers.term_id
            and offers.level_code = 'class'
    group by terms.school_id, terms.term_id
),

-- One or two classes with an offer are one or two teachers; none is nobody.
all_offers as (
    select
        counted.school_id,
        counted.term_id,
        'offers' as matter_code,
        '*' as grade_code,
        '*' as routine_id,
        '*' as measure_name,
        {%- for figure in ['open', 'waiting', 'held'] %}
        case
            when counted.{{ figure }}_class_count not between 1 and {{ few_classes() }} - 1
                then counted.{{ figure }}_count
        end as {{ figure }}_count,
        {%- endfor %}
        cast(null as bigint) as shown_class_count,
        schools.class_count,
        case when schools.class_count < {{ threshold('small_cell') }} then 'few_classes' end
            as reason
    from counted
    inner join schools on counted.school_id = schools.school_id
),

-- That half of a grade shows it is the matter; how many do is told where neither those who do nor
-- those who do not are one or two, and not where all do.
matters as (
    select
        offers.school_id,
        offers.term_id,
        offers.level_code as matter_code,
        coalesce(offers.grade_code, '*') as grade_code,
        offers.routine_id,
        offers.measure_name,
        cast(null as bigint) as open_count,
        cast(null as bigint) as waiting_count,
        case
            when {{ is_between_few('offers.shown_class_count', 'offers.class_count') }}
                then offers.shown_class_count
        end as held_count,
        case
            when {{ is_between_few('offers.shown_class_count', 'offers.class_count') }}
                then offers.shown_class_count
        end as shown_class_count,
        offers.class_count,
        grades.reason
    from offers
    left join grades
        on
            offers.school_id = grades.school_id
            and offers.grade_code = grades.grade_code
    where offers.level_code in ('grade', 'school')
),

together as (
    select * from all_offers
    union all
    select * from matters
),

shown as (
    select
        school_id,
        term_id,
        matter_code,
        grade_code,
        routine_id,
        measure_name,
        {%- for figure in ['open', 'waiting', 'held', 'shown_class'] %}
        case when reason is null then cast({{ figure }}_count as bigint) end
            as {{ figure }}_count,
        {%- endfor %}
        cast(class_count as bigint) as class_count,
        {{ withheld_columns('reason') }},
        {{ lineage_columns() }}
    from together
)

select * from shown
