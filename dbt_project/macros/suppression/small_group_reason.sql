{#
    The reason that a group gives by itself: too few people, or too few classes to be a group
    (a grade of one class is its teacher's score; staff are small cells too). Null otherwise.

    Worked examples (small_cell 10, few_classes 3):
        people 9, classes 3   -> small_cell
        people 10, classes 3  -> null (exactly ten is shown)
        people 0, classes 0   -> small_cell
        people 60, classes 2  -> few_classes
        people null           -> small_cell (a size that is not known is not shown)
#}
{% macro small_group_reason(people, classes) %}
    case
        when coalesce({{ people }}, 0) < {{ threshold('small_cell') }} then 'small_cell'
        when coalesce({{ classes }}, 0) < {{ few_classes() }} then 'few_classes'
    end
{% endmacro %}


{# The classes a grade needs before it is spoken of as a grade; below it is one class or two. #}
{% macro few_classes() %}{{ threshold('grade_matter_classes') }}{% endmacro %}


{# Whether one of the named counts rests on one or two classes; each has its `_class_count`. #}
{% macro is_of_few(figures) -%}
    (
        {%- for figure in figures %}
        {{ figure }}_class_count between 1 and {{ few_classes() }} - 1
        {%- if not loop.last %}
        or{% endif %}
        {%- endfor %}
    )
{%- endmacro %}


{# Whether both the classes counted and the others are more than one or two, so that neither part
   speaks of single teachers: 3 of 6 is, 2 of 6, 4 of 6 and 6 of 6 are not. #}
{% macro is_between_few(counted, classes) -%}
    {{ counted }} between {{ few_classes() }} and {{ classes }} - {{ few_classes() }}
{%- endmacro %}
