with catalogue as (
    {{ measure_catalogue() }}
)

select * from catalogue
