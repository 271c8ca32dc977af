{# What the team's last decision makes of a line that a review found.

   decision_id, decision_code, standing_code   of the last decision about the class and the routine
   is_found_since   found once more after that decision: nobody has answered it yet
#}
{% macro offer_course() -%}
    case
        when decision_id is null then 'new'
        when decision_code = 'offer' and standing_code = 'under_way' then 'under_way'
        when is_found_since then 'new'
        when decision_code = 'offer' then 'due'
        when decision_code = 'close' then 'ended'
        when standing_code in ('waiting', 'resting') then standing_code
        else 'returned'
    end
{%- endmacro %}
